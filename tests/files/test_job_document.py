"""The job document: what a page keeps is the job file, and nothing of it is lost."""

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import plankwright
from plankwright.errors import InputError
from plankwright.files.job import read_job
from plankwright.files.job_document import document_text, read_document

DATA = Path(plankwright.__file__).parent / "data"

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
scalars = st.one_of(
    texts, st.booleans(), st.integers(-(2**60), 2**60), st.floats(allow_nan=False, width=32)
).filter(lambda v: not isinstance(v, float) or abs(v) < 1e30)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(texts, inner, max_size=3)),
    max_leaves=12,
)


@settings(derandomize=True, deadline=None, max_examples=150)
@given(st.dictionaries(texts, values, max_size=4))
def test_what_is_written_is_read_again(document: dict[str, object]) -> None:
    assert read_document(document_text(document), "written") == document


@pytest.mark.parametrize("name", ["demo_room.toml"])
def test_the_demo_jobs_keep_their_meaning(name: str) -> None:
    text = (DATA / name).read_text(encoding="utf-8")
    written = document_text(read_document(text, name))
    assert read_document(written, name) == read_document(text, name)
    assert read_job(written, name) == read_job(text, name)


def test_days_become_texts() -> None:
    document = read_document("on = 2026-10-03\nat = 2026-10-03T09:00:00", "days")
    assert document == {"on": "2026-10-03", "at": "2026-10-03T09:00:00"}


def test_keys_without_a_value_are_left_out() -> None:
    assert tomllib.loads(document_text({"a": None, "b": {"c": None}, "d": [1, None]})) == {
        "b": {},
        "d": [1],
    }


@pytest.mark.parametrize("value", [float("nan"), float("inf"), object(), "\ud800"])
def test_what_no_file_can_hold_is_refused(value: object) -> None:
    with pytest.raises(InputError):
        document_text({"a": value})


def test_what_is_nested_too_deeply_is_refused() -> None:
    deep: dict[str, object] = {}
    lists: list[object] = []
    for _ in range(40):
        deep, lists = {"a": deep}, [lists]
    for document in (deep, {"a": lists}, {"a": [1, deep]}):
        with pytest.raises(InputError, match="too deeply"):
            document_text(document)
