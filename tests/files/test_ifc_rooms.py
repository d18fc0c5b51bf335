"""Rooms from IFC models, held against areas that two other methods gave (see truth.json)."""

import json
import sys
from pathlib import Path

import pytest
from tests.data import data_file

from plankwright.errors import FileError
from plankwright.files.ifc_rooms import read_ifc_rooms


@pytest.mark.parametrize(
    ("file", "unit"), [("duplex_architecture.ifc", "m"), ("large_building_rooms_mm.ifc", "mm")]
)
def test_spaces_of_two_models(file: str, unit: str) -> None:
    truth = json.loads(data_file("imports/truth.json").read_text(encoding="utf-8"))[file]
    found = read_ifc_rooms(data_file(f"imports/{file}"))
    assert found.unit == unit
    spaces = {space["space"]: space for space in truth["spaces"]}
    assert {room.id for room in found.rooms} == spaces.keys()
    for room in found.rooms:
        space = spaces[room.id]
        assert room.area_m2 == pytest.approx(space["area_m2_mesh"], rel=1e-3)
        if space["area_m2_profile"] is not None:
            assert room.area_m2 == pytest.approx(space["area_m2_profile"], rel=1e-3)
        assert room.extent_m == pytest.approx(space["bbox_m"], rel=1e-3)
        assert space["name"] in room.room.name
        assert room.storey == space["storey"]


def test_doors_and_stairs_of_the_duplex() -> None:
    rooms = {r.id: r for r in read_ifc_rooms(data_file("imports/duplex_architecture.ifc")).rooms}
    # The doors' overall widths as the model writes them: 762 mm to the bathroom, 1250 the front.
    assert [round(d.width_mm) for d in rooms["A104"].room.doorways] == [762]
    assert sorted(round(d.width_mm) for d in rooms["A101"].room.doorways) == [762, 1250]
    assert [thing.kind for thing in rooms["A105"].room.fixed] == ["stair"]


def model(*lines: str) -> str:
    """A model with one extruded space on a storey, and more lines."""
    head = (
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((''),'2;1');\n"
        "FILE_NAME('','',(''),(''),'','','');\nFILE_SCHEMA(('IFC4'));\nENDSEC;\nDATA;\n"
    )
    return head + "\n".join(lines) + "\nENDSEC;\nEND-ISO-10303-21;\n"


PROJECT = (
    "#1=IFCCARTESIANPOINT((0.,0.,0.));",
    "#2=IFCAXIS2PLACEMENT3D(#1,$,$);",
    "#3=IFCGEOMETRICREPRESENTATIONCONTEXT($,'Model',3,1.E-5,#2,$);",
    "#4=IFCSIUNIT(*,.LENGTHUNIT.,.MILLI.,.METRE.);",
    "#5=IFCUNITASSIGNMENT((#4));",
    "#6=IFCPROJECT('0000000000000000000001',$,'p',$,$,$,$,(#3),#5);",
    "#7=IFCLOCALPLACEMENT($,#2);",
)


def body(number: int, x: float, y: float, wide: float, deep: float, kind: str) -> tuple[str, ...]:
    """A box 2.5 m high on the floor."""
    n = number
    middle = (x + wide / 2, y + deep / 2)
    return (
        f"#{n}=IFCCARTESIANPOINT(({middle[0]:.1f},{middle[1]:.1f}));",
        f"#{n + 1}=IFCAXIS2PLACEMENT2D(#{n},$);",
        f"#{n + 2}=IFCRECTANGLEPROFILEDEF(.AREA.,$,#{n + 1},{wide:.1f},{deep:.1f});",
        f"#{n + 3}=IFCDIRECTION((0.,0.,1.));",
        f"#{n + 4}=IFCEXTRUDEDAREASOLID(#{n + 2},#2,#{n + 3},2500.);",
        f"#{n + 5}=IFCSHAPEREPRESENTATION(#3,'Body','SweptSolid',(#{n + 4}));",
        f"#{n + 6}=IFCPRODUCTDEFINITIONSHAPE($,$,(#{n + 5}));",
        f"#{n + 7}={kind.format(shape=f'#{n + 6}', id=f'{n:022d}')};",
    )


SPACE = "IFCSPACE('{id}',$,'7',$,$,#7,{shape},'Den',.ELEMENT.,$,$)"
COLUMN = "IFCCOLUMN('{id}',$,'c',$,$,#7,{shape},$,$)"
DOOR = "IFCDOOR('{id}',$,'d',$,$,#7,{shape},$,2100.,800.,$,$,$)"


def test_a_small_model_by_hand(tmp_path: Path) -> None:
    path = tmp_path / "den.ifc"
    path.write_text(
        model(
            *PROJECT,
            *body(10, 0, 0, 4000, 3000, SPACE),
            *body(20, 1000, 1000, 300, 400, COLUMN),
            *body(30, 4000, 1000, 100, 800, DOOR),  # in the wall beyond x = 4 m
            *body(40, 9000, 9000, 300, 300, COLUMN),  # in no room
        )
    )
    found = read_ifc_rooms(path)
    (room,) = found.rooms
    assert (room.id, room.room.name, found.unit) == ("7", "Den 7", "mm")
    assert room.area_m2 == pytest.approx(12.0)
    (post,) = room.room.fixed
    assert post.kind == "post"
    assert post.outline.bounds == pytest.approx((1000, 1000, 1300, 1400))
    (door,) = room.room.doorways
    assert door.width_mm == pytest.approx(800.0)
    edge = next(edge for edge in room.room.edges() if edge.name == door.edge)
    assert {edge.start[0], edge.end[0]} == {4000.0}


def test_no_space(tmp_path: Path) -> None:
    path = tmp_path / "den.ifc"
    path.write_text(model(*PROJECT))
    with pytest.raises(FileError, match="no space"):
        read_ifc_rooms(path)


def test_the_extra_is_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "den.ifc"
    path.write_text(model(*PROJECT))
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)  # import raises ImportError
    with pytest.raises(FileError, match=r"pip install 'plankwright\[ifc\]'"):
        read_ifc_rooms(path)
