"""The description of the page's JSON holds: generated requests get described answers."""

from __future__ import annotations

from typing import Any

import pytest
import schemathesis
from examples import TIMES
from hypothesis import HealthCheck, given, settings
from schemathesis import GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.schemas import APIOperation
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from served import Served

from plotter.web.guard import TOKEN_HEADER

PATIENCE_S = 120
"""The first question for a name waits until its index is built, on a busy machine for long."""
CHECKS = (
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_schema_conformance,
)


@pytest.fixture(scope="session")
def operations(page: Served) -> dict[str, APIOperation]:
    """Every operation of the page's own description, read from the page."""
    schema = schemathesis.openapi.from_url(f"{page.url}/openapi.json")
    found = [result.ok() for result in schema.get_all_operations()]
    return {f"{each.method.upper()} {each.path}": each for each in found}


@pytest.mark.slow
@pytest.mark.parametrize("mode", list(GenerationMode))
@pytest.mark.parametrize(
    "name",
    [
        "POST /api/plot",
        "POST /api/sheet",
        "POST /api/export/{name}",
        "GET /api/find",
        "GET /api/near",
        "POST /api/measure",
        "GET /api/base",
        "GET /api/formats",
        "POST /api/log",
        "POST /api/working",
        "POST /api/plan/read",
        "POST /api/plan/write",
        "GET /api/plan/new",
    ],
)
def test_generated_requests_get_described_answers(
    name: str, mode: GenerationMode, operations: dict[str, APIOperation], page: Served
) -> None:
    operation = operations[name]
    if mode is GenerationMode.NEGATIVE and name in ("GET /api/formats", "GET /api/plan/new"):
        return  # it takes nothing, so nothing can be wrong
    headers = {TOKEN_HEADER: page.token}

    @settings(max_examples=30 * TIMES, suppress_health_check=list(HealthCheck), deadline=None)
    @given(case=operation.as_strategy(generation_mode=mode))
    def holds(case: Any) -> None:
        response = case.call(base_url=page.url, headers=headers, timeout=PATIENCE_S)
        case.validate_response(response, checks=CHECKS, headers=headers)
        assert b"Traceback" not in response.content

    holds()


def test_the_description_names_every_address_and_no_outside_one(page: Served) -> None:
    described = page.get("/openapi.json").json()
    paths = {"/api/plot", "/api/sheet", "/api/export/{name}", "/api/find", "/api/formats"}
    assert paths <= set(described["paths"])
    assert "http" not in str(described).replace("HTTPValidationError", "")
