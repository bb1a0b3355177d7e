// What a page of a dealer would do with types generated from the contract: test_typescript.py compiles and runs it.
import { ADDRESS } from "./address.js";
import type { components, paths } from "./contract.js";

type Schemas = components["schemas"];
type Calculation = {
  [P in keyof paths]: paths[P] extends { post: { requestBody: { content: { "application/json": object } } } }
    ? P
    : never;
}[keyof paths];
type Facts<P extends Calculation> = paths[P]["post"]["requestBody"]["content"]["application/json"];
type Answer<P extends Calculation> = paths[P]["post"]["responses"][200]["content"]["application/json"];

class Refused extends Error {
  constructor(readonly problem: Schemas["Problem"]) {
    super(problem.detail);
  }
}

async function ask<P extends Calculation>(path: P, facts: Facts<P>): Promise<Answer<P>> {
  const response = await fetch(`${ADDRESS}${path}?units=si`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(facts),
  });
  if (!response.ok) {
    throw new Refused((await response.json()) as Schemas["Problem"]);
  }
  return (await response.json()) as Answer<P>;
}

async function refused(asked: Promise<unknown>): Promise<Schemas["Problem"]> {
  try {
    await asked;
  } catch (error) {
    if (error instanceof Refused) {
      return error.problem;
    }
    throw error;
  }
  throw new Error("this was to be refused");
}

const tank: Schemas["Tank"] = {
  kind: "bladder",
  total_volume: { value: 44, unit: "gal" },
  precharge: { value: 28, unit: "psi" },
};
const facts: Schemas["SizingRequest"] = {
  well: { static_water_level: { value: 90, unit: "ft" } },
  tank,
  pressures: { target: { value: 50, unit: "psi" } },
};

const sizing = await ask("/v1/sizings", facts);
const curve = await ask("/v1/tank-curves", { tank });

// The compiler refuses what the service would.
const misplaced = await refused(
  ask("/v1/sizings", {
    // @ts-expect-error a length is no pressure
    pressures: { target: { value: 50, unit: "ft" } },
  }),
);
const misspelled = await refused(
  ask("/v1/sizings", {
    // @ts-expect-error no such fact
    wel: {},
  }),
);
// @ts-expect-error what may be left out has to be looked for
const unchecked: string = sizing.recommended;

const units = (await (await fetch(`${ADDRESS}/v1/units`)).json()) as Schemas["UnitList"];

console.log(
  JSON.stringify({
    facts,
    sizing,
    reached: curve.curve.pressure.values.at(-1),
    unit: curve.curve.pressure.unit,
    recommended: unchecked,
    pointers: [misplaced, misspelled].map((problem) => problem.errors?.map((error) => error.pointer)),
    dimensions: units.dimensions.map((dimension) => dimension.dimension),
  }),
);
