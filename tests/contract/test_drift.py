"""The committed contract and the code say the same."""

import json

from tests.contract.documents import WRITE, committed

from upstroke_service.api.document import document
from upstroke_service.api.resources import HANDLERS


def test_the_committed_contract_is_what_the_code_generates() -> None:
    generated = json.loads(json.dumps(document(HANDLERS)))

    assert generated == committed(), f"openapi/openapi.json differs from the code; write it anew: {WRITE}"
