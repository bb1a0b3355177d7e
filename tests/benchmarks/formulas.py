"""The models of ``by_hand`` as formulas of a workbook, a well a row.

    .venv/bin/python -m tests.benchmarks.formulas WELLS wells.xlsx

What all wells share has a name; what differs, and every step between facts and figures, has a column.
"""

import math
import sys
from collections.abc import Iterator
from pathlib import Path

import xlsxwriter
from tests.benchmarks.by_hand import NEWTON_STEPS, NODES, PHASES, STEPS
from tests.benchmarks.registers import BORE, varied
from xlsxwriter.utility import xl_col_to_name

_NAMED = {
    "foot": "0.3048",
    "inch": "0.0254",
    "gallon": "0.003785411784",
    "psi": "6894.757293168361",
    "gravity": "9.80665",
    "density": "999.70",
    "viscosity": "0.0013059",
    "weight": "density*gravity",
    "atmosphere": "101325",
    "precharge": "28*psi",
    "power": "75",
    "preferred": "40/60",
    "slowest": "20/60",
    "plunger": f"PI()/4*({BORE}*inch)^2",
    "pumprod": "PI()/4*(0.375*inch)^2",
    "lifting": "plunger-pumprod",
    "travel": "8*inch",
    "linkage": "0.9",
    "lever": "5*linkage",
    "seals": "50",
    "tightness": "0.92",
    "outletpressure": "weight*4*foot+0.5*psi",
    "annulus": "PI()/4*(1.278*inch)^2-pumprod",
    "annulusdiameter": "1.278*inch-0.375*inch",
    "hosearea": "PI()/4*(0.75*inch)^2",
    "hosediameter": "0.75*inch",
    "roughness": "0.0000015",
    "stretchiness": "1/(193000000000*pumprod)+1/(2758000000*PI()/4*((1.66*inch)^2-(1.278*inch)^2))",
}
FACTS = ("level_ft", "hose_ft", "tank_gal", "target_psi")


def _friction(pipe: str, flow: str) -> str:
    """Head loss by Darcy-Weisbach with Churchill's friction factor; ``flow`` is the name of a column."""
    area, diameter, length = {
        "riser": ("annulus", "annulusdiameter", "{depth}"),
        "hose": ("hosearea", "hosediameter", "{hose}"),
    }[pipe]
    reynolds = f"(density*{flow}*{diameter}/({area}*viscosity))"
    rough = f"(2.457*LN(1/((7/{reynolds})^0.9+0.27*roughness/{diameter})))^16"
    factor = f"8*((8/{reynolds})^12+({rough}+(37530/{reynolds})^16)^-1.5)^(1/12)"
    return f"{factor}*{length}/{diameter}*({flow}/{area})^2/(2*gravity)"


def _losses(name: str, share: float, peak: str) -> Iterator[tuple[str, str]]:
    """Columns of a flow that is a share of the peak, and of all that it loses, which gets the ``name``."""
    flow = f"{{{name}_flow}}"
    yield f"{name}_flow", f"{share!r}*{{{peak}}}"
    yield f"{name}_riser", _friction("riser", flow)
    yield f"{name}_hose", _friction("hose", flow)
    yield name, f"{{{name}_riser}}+{{{name}_hose}}+({flow}/hosearea)^2/(2*gravity)"


def _mean_loss(name: str, cadence: str) -> Iterator[tuple[str, str]]:
    yield f"{name}_peak", f"PI()/2*tightness*lifting*travel*{cadence}/0.5"
    for place, (sine, _) in enumerate(NODES):
        yield from _losses(f"{name}_{place}", sine, f"{name}_peak")
    yield name, "+".join(f"{share!r}*{{{name}_{place}}}" for place, (_, share) in enumerate(NODES))


def _cadence(name: str, pressure: str) -> Iterator[tuple[str, str]]:
    """Columns of forces, of work, and of the cadence that the power keeps up at a pressure."""
    yield f"{name}_load", f"plunger*(weight*{{level}}+{pressure}+outletpressure)"
    yield f"{name}_held", f"({pressure}+outletpressure)*pumprod"
    yield f"{name}_up", f"{{{name}_load}}-{{{name}_held}}+{{rodweight}}+seals"
    yield f"{name}_down", f"{{{name}_held}}+seals-{{rodweight}}"
    yield (
        f"{name}_rest",
        f"(travel*({{{name}_up}}+MAX({{{name}_down}},0))-0.5*{{{name}_load}}^2*{{give}})/linkage",
    )
    yield f"{name}_fixed", f"{{{name}_rest}}+{{moving_slowest}}-{{growth}}*slowest^2"
    before = "preferred"
    for step in range(NEWTON_STEPS):
        excess = f"({{{name}_fixed}}+{{growth}}*{before}^2)*{before}-power"
        slope = f"({{{name}_fixed}}+3*{{growth}}*{before}^2)"
        yield f"{name}_n{step}", f"MIN({before}-({excess})/{slope},preferred)"
        before = f"{{{name}_n{step}}}"
    rests = f"power/({{{name}_fixed}}+{{growth}}*slowest^2)"
    yield f"{name}_cadence", f"IF({before}<slowest,{rests},{before})"


def _columns() -> Iterator[tuple[str, str]]:
    """Every column that is calculated, with its formula; names of other columns stand in braces."""
    yield "level", "{level_ft}*foot"
    yield "hose", "{hose_ft}*foot"
    yield "tank", "{tank_gal}*gallon"
    yield "target", "{target_psi}*psi"
    yield "depth", "{level}+15*foot"
    yield "rodweight", "pumprod*{depth}*(7900-density)*gravity"
    yield "give", "{depth}*stretchiness"
    for cadence in ("slowest", "preferred"):
        yield from _mean_loss(f"loss_{cadence}", cadence)
        yield f"moving_{cadence}", f"weight*lifting*{{loss_{cadence}}}*travel/linkage"
    yield "growth", "({moving_preferred}-{moving_slowest})/(preferred^2-slowest^2)"
    yield "step", f"({{target}}-precharge)/{STEPS}"
    for place in range(STEPS):
        name = f"step{place}"
        low, high = f"(precharge+{place}*{{step}})", f"(precharge+{place + 1}*{{step}})"
        yield from _cadence(name, f"({low}+0.5*{{step}})")
        yield f"{name}_net", f"tightness*plunger*(travel-{{{name}_load}}*{{give}})"
        gained = f"(precharge+atmosphere)*(1/({low}+atmosphere)-1/({high}+atmosphere))"
        yield f"{name}_strokes", f"{{tank}}*{gained}/{{{name}_net}}"
        yield f"{name}_seconds", f"{{{name}_strokes}}/{{{name}_cadence}}"
    yield from _cadence("end", "{target}")
    yield "pumping", "MAX({end_cadence},slowest)"
    yield from _mean_loss("loss_end", "{pumping}")
    columns = "({depth}/annulus+{hose}/hosearea)/gravity"
    yield "inertia", f"{columns}*PI()*{{pumping}}/0.5*{{loss_end_peak}}"
    for phase in range(1, PHASES):
        yield from _losses(f"phase{phase}", math.sin(math.pi / 2.0 * phase / (PHASES - 1)), "loss_end_peak")
    yield from _figures()


def _figures() -> Iterator[tuple[str, str]]:
    yield "head", "({level}+({target}+outletpressure)/weight+{loss_end})/foot"
    phases = ",".join(
        f"{{phase{phase}}}+{math.cos(math.pi / 2.0 * phase / (PHASES - 1))!r}*{{inertia}}"
        for phase in range(1, PHASES)
    )
    up = f"{{end_up}}+weight*lifting*MAX({{inertia}},{phases})"
    yield "force", f"MAX({up},{{end_down}})/lever/4.4482216152605"
    yield "water", "{tank_gal}*(1-(precharge+atmosphere)/({target}+atmosphere))"
    yield "strokes", "+".join(f"{{step{place}_strokes}}" for place in range(STEPS))
    yield "minutes", "(" + "+".join(f"{{step{place}_seconds}}" for place in range(STEPS)) + ")/60"


def write(file: Path, wells: int) -> int:
    """A workbook of the first wells of a register; how many formulas each row has."""
    columns = list(_columns())
    letters = {
        name: xl_col_to_name(place) for place, name in enumerate([*FACTS, *(name for name, _ in columns)])
    }
    with xlsxwriter.Workbook(str(file), {"constant_memory": True}) as book:
        shared, sheet = book.add_worksheet("Shared"), book.add_worksheet("Wells")
        for place, (name, formula) in enumerate(_NAMED.items()):
            shared.write_row(place, 0, [name])
            shared.write_formula(place, 1, f"={formula}")
            book.define_name(name, f"=Shared!$B${place + 1}")
        for place, facts in enumerate(zip(*varied(wells).values(), strict=True)):
            sheet.write_row(place, 0, [float(value) for value in facts])
            cells = {name: f"{letter}{place + 1}" for name, letter in letters.items()}
            for column, (_, formula) in enumerate(columns, start=len(FACTS)):
                sheet.write_formula(place, column, f"={formula.format_map(cells)}")
        sheet.activate()
    return len(columns)


def main() -> None:
    """Write a workbook."""
    print(f"{write(Path(sys.argv[2]), int(sys.argv[1]))} formulas a well")


if __name__ == "__main__":
    main()
