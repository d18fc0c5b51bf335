"""Small IFC models for tests, written by hand after ISO 16739 (IFC4) and ISO 10303-21."""


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


def small_model() -> str:
    """A room of 4 x 3 m with a column and a door."""
    return model(
        *PROJECT,
        *body(10, 0, 0, 4000, 3000, SPACE),
        *body(20, 1000, 1000, 300, 400, COLUMN),
        *body(30, 4000, 1000, 100, 800, DOOR),
    )
