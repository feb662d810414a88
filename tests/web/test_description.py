"""Requests made from the API's own description, well formed and not: no fault of the server, no answer undescribed.

Ids are made up by the generator; three of four requests get one that there is, so that more than 404 is tried.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any, cast

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st
from schemathesis import Case, GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.python import asgi
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
    status_code_conformance,
)
from starlette.testclient import TestClient
from tests.web.shops import BASE, Seeds, app_at, seeded

from fourply.web.parts import LOOPBACK

CHECKS = [
    not_a_server_error,
    status_code_conformance,
    content_type_conformance,
    response_headers_conformance,
    response_schema_conformance,
]
EXAMPLES = int(os.environ.get("FOURPLY_API_EXAMPLES", "2"))
"""Requests of each kind, well formed and not, for each operation."""
COLLECTIONS = (
    *("shows", "works", "treatments", "materials", "rack", "cutters", "plans", "pictures", "settings"),
    *("jobs", "live", "history", "scopes"),
)


@pytest.fixture(scope="module")
def described(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Any, Seeds, Any]]:
    """The operations of a shop's API, what is in the shop, a session to ask with."""
    app = app_at(tmp_path_factory.mktemp("shop"), hosts=LOOPBACK | {asgi.HOST})
    with TestClient(app, base_url=BASE) as client:
        seeds = seeded(client)
        schema = schemathesis.openapi.from_asgi("/openapi.json", app)
        with asgi.get_client(cast("Any", app)) as session:
            yield schema, seeds, session


def operations(schema: Any) -> list[Any]:
    """Return every operation but the streams, which do not end."""
    found = [each.ok() for each in schema.get_all_operations()]
    return [each for each in found if not each.path.endswith("/events")]


def collection(path: str) -> str:
    return path.split("/")[3]


def aimed(case: Case[Any], seeds: Seeds, version: int) -> None:
    """Let a request name what there is."""
    of = collection(case.operation.path)
    if "ident" in case.path_parameters and of in seeds.ids:
        case.path_parameters["ident"] = seeds[of]
    if "scope" in case.path_parameters:
        case.path_parameters["scope"] = seeds["shows"]
    if "If-Match" in case.headers:
        case.headers["If-Match"] = f'"{version}"'
    if of == "works" and isinstance(case.body, dict) and "scope" in case.body:
        case.body["scope"] = seeds["shows"]


def test_every_operation_is_tried(described: tuple[Any, Seeds, Any]) -> None:
    assert {collection(each.path) for each in operations(described[0])} == {*COLLECTIONS}


@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE])
@pytest.mark.parametrize("name", COLLECTIONS)
def test_requests_from_the_description(described: tuple[Any, Seeds, Any], name: str, mode: GenerationMode) -> None:
    schema, seeds, session = described

    def tried(operation: Any) -> None:
        @seed(20)
        @settings(
            max_examples=EXAMPLES,
            deadline=None,
            database=None,
            suppress_health_check=list(HealthCheck),
            phases=[Phase.generate],
        )
        @given(case=operation.as_strategy(generation_mode=mode), aim=st.integers(0, 3), version=st.integers(0, 4))
        def asked(case: Case[Any], aim: int, version: int) -> None:
            if aim:
                aimed(case, seeds, version)
            case.validate_response(case.call(session=session), checks=CHECKS)

        asked()

    for each in operations(schema):
        takes = each.definition.raw.keys() & {"parameters", "requestBody"}
        if collection(each.path) == name and (takes or mode is GenerationMode.POSITIVE):
            tried(each)
