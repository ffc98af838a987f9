"""The loader of standards tables, and that every table says where its figures come from."""

import re
import subprocess
import sys
from fractions import Fraction
from importlib import resources

import pytest

from slotwright.errors import NotListedError
from slotwright.parts.standards import (
    StandardsTableError,
    find,
    millimetres,
    parse,
    rows,
    source_state,
    system_named,
)

FOLDER = resources.files("slotwright.parts").joinpath("standards")
TABLES = sorted(f.name.removesuffix(".csv") for f in FOLDER.iterdir() if f.name.endswith(".csv"))


@pytest.mark.parametrize(
    ("lines", "problem"),
    [
        pytest.param(["size,source", "M6,S01"], "no status column", id="no-status-column"),
        pytest.param(["size,status", "M6,memory"], "no source column", id="no-source-column"),
        pytest.param(["size,status,source", "M6,,S01"], "row 1 of table planted", id="empty-status"),
        pytest.param(["size,status,source", "M5,memory,MEM", "M6,memory,"], "row 2", id="empty-source"),
        pytest.param([], "no status column", id="empty-file"),
    ],
)
def test_a_table_that_hides_its_source_is_refused(lines: list[str], problem: str) -> None:
    with pytest.raises(StandardsTableError, match=problem):
        parse("planted", lines)


@pytest.mark.parametrize("table", TABLES)
def test_every_table_loads_with_a_known_status_and_known_source_keys(table: str) -> None:
    keys = set(re.findall(r"^\| (\w+) \|", FOLDER.joinpath("SOURCES.md").read_text(encoding="utf-8"), re.MULTILINE))
    assert rows(table)
    for row in rows(table):
        assert row.status.split(" ")[0] in {"confirmed", "partial", "computed", "memory"}
        assert set(row.text("source").split(";")) <= keys


@pytest.mark.parametrize("table", TABLES)
def test_memory_columns_name_real_columns(table: str) -> None:
    loose = {"frame margins"}  # sheet_sizes: two margin columns in words
    for row in rows(table):
        named = row.cells.get("memory_columns", "")
        for part in filter(None, named.split(";")):
            column = part.split(" (")[0].split("(")[0]
            assert column == "all" or column in loose or column in row.cells, part


def test_a_partial_row_is_not_confirmed_and_knows_which_figure_was_recalled() -> None:
    row = parse("planted", ["a,b,status,memory_columns,source", "1,2,partial,b,S01;MEM"])[0]
    assert not row.confirmed
    assert row.seen("a")
    assert not row.seen("b")
    assert source_state(row, "b") == "from memory, unconfirmed"
    assert source_state(row, "a") == "read in a copy of the standard"


def test_a_missing_column_or_figure_names_itself() -> None:
    row = parse("planted", ["a,status,source", ",confirmed,S01"])[0]
    assert row.optional("a") is None
    with pytest.raises(StandardsTableError, match="no column b"):
        row.text("b")
    with pytest.raises(StandardsTableError, match="no figure in column a"):
        row.number("a")


def test_a_failed_look_up_says_what_where_and_what_there_is() -> None:
    with pytest.raises(NotListedError) as caught:
        find("hex_nuts_metric", "thread", "M13", "ISO 4032")
    assert (caught.value.wanted, caught.value.table) == ("M13", "ISO 4032")
    assert {"M12", "M14"} <= set(caught.value.listed)


@pytest.mark.parametrize(
    ("inches", "mm"),
    [
        pytest.param("1", 25.4, id="definition-of-the-inch-1959"),
        pytest.param("3/8", 9.525, id="3/8"),
        pytest.param("1/64", 0.396875, id="1/64"),
        pytest.param("0.401", 10.1854, id="decimal"),
    ],
)
def test_inches_become_the_nearest_float_of_the_exact_product(inches: str, mm: float) -> None:
    assert millimetres(Fraction(inches)) == mm


def test_systems_go_by_name_or_unit() -> None:
    assert [system_named(text) for text in ("metric", "mm", "inch", "in")] == ["metric", "metric", "inch", "inch"]
    with pytest.raises(NotListedError, match="systems of measurement"):
        system_named("cubit")


def test_the_list_of_sources_names_no_addresses() -> None:
    text = FOLDER.joinpath("SOURCES.md").read_text(encoding="utf-8")
    assert not re.search(r"https?:|www\.|\.(com|org|net|co\.uk|io)\b", text)


def test_the_parts_room_needs_no_heavy_library() -> None:
    """Checks start fast: looking things up imports neither a CAD kernel, nor a drawing, PDF or array library."""
    modules = sorted(
        f.name.removesuffix(".py") for f in resources.files("slotwright.parts").iterdir() if f.name.endswith(".py")
    )
    look_ups = [name for name in modules if name not in {"__init__", "supplies", "table_file"}]  # those read files
    code = (
        "import sys; from importlib import import_module\n"
        f"for name in {look_ups!r}: import_module(f'slotwright.parts.{{name}}')\n"
        "print(*sorted({m.split('.')[0] for m in sys.modules} & "
        "{'cadquery', 'OCP', 'ezdxf', 'reportlab', 'numpy', 'pint'}))"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == ""
