"""Damaged and hostile drawings, made anew from a seed: what nobody wants to get, but does."""

import gzip
import json
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from tests.files.dxf_maker import dxf_text, lines, rectangle
from tests.files.ifc_maker import small_model

Random = random.Random


@dataclass(frozen=True)
class Hostile:
    """A file that is no good: a name that tells why, and its bytes."""

    name: str
    content: bytes


def hostile_files(seed: int = 1, each: int = 12) -> Iterator[Hostile]:
    """``each`` files of every kind, the same for the same seed."""
    for kind, make in KINDS.items():
        for number in range(each):
            rng = random.Random(f"{seed} {kind} {number}")
            suffix, content = make(rng)
            yield Hostile(f"{kind}-{number}{suffix}", content)


def drawing(space: Any) -> None:
    """Two rooms with all that the reader looks at."""
    rectangle(space, 0, 0, 4000, 3000, "ROOMS")
    rectangle(space, 4100, 0, 3000, 3000, "ROOMS")
    space.add_lwpolyline([(0, 4000, 0, 0, 1), (900, 4000, 0, 0, 0.2), (900, 5000, 0, 0, 0)])
    space.add_arc((0, 3000), 800, 0, 90, dxfattribs={"layer": "DOORS"})
    space.add_spline([(0, 0), (1000, 500), (2000, 0)])
    space.add_mtext("BEDROOM\n12'3 x 9'4").set_location((1000, 1000))
    lines(space, [(0, 6000), (4000, 6000), (4000, 9000), (0, 9000), (0, 6000)])
    block = space.doc.blocks.new("B")
    rectangle(block, 0, 0, 500, 500)
    space.add_blockref("B", (9000, 0))


def _good() -> bytes:
    return dxf_text(drawing).encode("utf-8")


def _truncated(rng: Random) -> tuple[str, bytes]:
    data = _good()
    return ".dxf", data[: rng.randrange(1, len(data))]


def _flipped(rng: Random) -> tuple[str, bytes]:
    return ".dxf", _with_flips(_good(), rng)


def _with_flips(data: bytes, rng: Random) -> bytes:
    spoiled = bytearray(data)
    for _ in range(rng.choice((1, 8, 64, 512))):
        spoiled[rng.randrange(len(spoiled))] ^= 1 << rng.randrange(8)
    return bytes(spoiled)


def _lines_lost(rng: Random) -> tuple[str, bytes]:
    kept = [line for line in _good().splitlines() if rng.random() > 0.01]
    return ".dxf", b"\n".join(kept)


def _values_swapped(rng: Random) -> tuple[str, bytes]:
    """Numbers made huge, tiny, infinite or no number."""
    absurd = [b"1e308", b"-1e308", b"nan", b"inf", b"1e-320", b"9" * 400, b"", b"0x7f", b"-1"]
    told = [
        rng.choice(absurd) if rng.random() < 0.02 and b"." in line else line
        for line in _good().splitlines()
    ]
    return ".dxf", b"\n".join(told)


def _nested_blocks(rng: Random) -> tuple[str, bytes]:
    """Each block holds the one before several times: 10 ** 20 rectangles in the end."""
    deep, wide = rng.randrange(5, 40), rng.randrange(2, 11)

    def draw(space: Any) -> None:
        rectangle(space.doc.blocks.new("N0"), 0, 0, 4000, 3000)
        for level in range(1, deep):
            block = space.doc.blocks.new(f"N{level}")
            for _ in range(wide):
                block.add_blockref(f"N{level - 1}", (1, 1))
        space.add_blockref(f"N{deep - 1}", (0, 0))

    return ".dxf", dxf_text(draw).encode()


def _self_containing(rng: Random) -> tuple[str, bytes]:
    """Blocks in a ring: the last holds the first again."""
    ring = rng.randrange(1, 6)

    def draw(space: Any) -> None:
        for level in range(ring):
            block = space.doc.blocks.new(f"R{level}")
            rectangle(block, 0, 0, 4000, 3000)
            block.add_blockref(f"R{(level + 1) % ring}", (1, 1))
        space.add_blockref("R0", (0, 0))

    return ".dxf", dxf_text(draw).encode()


def _array_of_blocks(rng: Random) -> tuple[str, bytes]:
    """One insert with a billion copies."""

    def draw(space: Any) -> None:
        rectangle(space.doc.blocks.new("A"), 0, 0, 4000, 3000)
        counts = {"row_count": rng.choice((300, 32_000)), "column_count": 32_000}
        counts |= {"row_spacing": 10, "column_spacing": 10}
        space.add_blockref("A", (0, 0), dxfattribs=counts)

    return ".dxf", dxf_text(draw).encode()


def _many_entities(rng: Random) -> tuple[str, bytes]:
    """10 ** 6 lines."""
    one = b"  0\nLINE\n  8\n0\n 10\n%d.0\n 20\n0.0\n 11\n1.0\n 21\n1.0\n" % rng.randrange(999)
    head = b"  0\nSECTION\n  2\nENTITIES\n"
    return ".dxf", head + one * 1_000_000 + b"  0\nENDSEC\n  0\nEOF\n"


def _wild_curves(rng: Random) -> tuple[str, bytes]:
    """Circles as large as the solar system, splines that fold, bulges without end."""

    def draw(space: Any) -> None:
        space.add_circle((0, 0), 10.0 ** rng.randrange(6, 300))
        space.add_ellipse((0, 0), (10.0 ** rng.randrange(1, 200), 0), 1e-6)
        points = [(rng.gauss(0, 10.0 ** rng.randrange(1, 9)), rng.random()) for _ in range(200)]
        space.add_spline(points)
        bulge = 10.0 ** rng.randrange(-300, 300)
        space.add_lwpolyline([(0, 0, 0, 0, bulge), (4000, 0, 0, 0, -bulge), (0, 3000, 0, 0, 0)])
        rectangle(space, 0, 0, 4000, 3000)

    return ".dxf", dxf_text(draw).encode()


def _tangle(rng: Random) -> tuple[str, bytes]:
    """Wall lines across each other at random: very many crossings."""

    def draw(space: Any) -> None:
        for _ in range(800):
            ends = [(rng.uniform(0, 20_000), rng.uniform(0, 20_000)) for _ in range(2)]
            space.add_line(*ends, dxfattribs={"layer": "WALL"})

    return ".dxf", dxf_text(draw).encode()


def _xml_bomb(rng: Random) -> tuple[str, bytes]:
    entities = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 30))
    text = f'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a0 "x">{entities}]><x>&a29;</x>'
    return rng.choice((".dxf", ".ifc", ".geojson", ".toml")), text.encode()


def _json_bomb(rng: Random) -> tuple[str, bytes]:
    deep = "[" * rng.randrange(2_000, 300_000)
    wide = json.dumps({"type": "Polygon", "coordinates": [[[0, 0]] * rng.randrange(9, 90_000)]})
    return ".geojson", rng.choice((deep, wide, '{"type":"Feature","geometry":' + deep)).encode()


def _packed(rng: Random) -> tuple[str, bytes]:
    """A megabyte of nothing in a kilobyte."""
    return rng.choice((".dxf", ".ifc", ".geojson")), gzip.compress(b"\0" * 1_000_000, mtime=0)


def _wrong_ending(rng: Random) -> tuple[str, bytes]:
    contents = (
        _good(),
        small_model().encode(),
        b'{"type":"Polygon"}',
        b"AC1032\0\0\0\0",
        b"\x89PNG",
    )
    return rng.choice((".ifc", ".geojson", ".toml", ".dxf")), rng.choice(contents[2:]) if (
        rng.random() < 0.4
    ) else contents[rng.randrange(2)]


def _empty(rng: Random) -> tuple[str, bytes]:
    suffix = rng.choice((".dxf", ".ifc", ".geojson"))
    return suffix, rng.choice((b"", b"\n" * 99, b"\0" * 999, b"  0\nSECTION\n", b"  0\nEOF\n"))


def _noise(rng: Random) -> tuple[str, bytes]:
    """Random bytes, some after a true beginning."""
    begin = rng.choice((b"", b"  0\nSECTION\n  2\nHEADER\n", b"AutoCAD Binary DXF\r\n\x1a\0"))
    return ".dxf", begin + rng.randbytes(rng.randrange(10, 50_000))


def _long_lines(rng: Random) -> tuple[str, bytes]:
    """A text, a name of a layer and a comment of a megabyte each."""
    long = b"A" * rng.randrange(200_000, 1_000_000)
    data = _good().replace(b"BEDROOM", long, 1).replace(b"ROOMS", long)
    return ".dxf", b"999\n" + long + b"\n" + data


def _ifc_truncated(rng: Random) -> tuple[str, bytes]:
    data = small_model().encode()
    return ".ifc", data[: rng.randrange(1, len(data))]


def _ifc_flipped(rng: Random) -> tuple[str, bytes]:
    return ".ifc", _with_flips(small_model().encode(), rng)


def _ifc_rings(rng: Random) -> tuple[str, bytes]:
    """References that lead back to themselves, or nowhere."""
    text = small_model()
    numbers = [rng.randrange(1, 40) for _ in range(3)]
    for number in numbers:
        text = text.replace(f"#{number},", f"#{rng.choice((number + 7, 99_999, 1))},")
    return ".ifc", text.encode()


def _ifc_absurd(rng: Random) -> tuple[str, bytes]:
    absurd = ("1.E308", "-1.E308", "0.", "1.E-300", "9" * 300 + ".")
    return ".ifc", small_model().replace("2500.", rng.choice(absurd)).replace(
        "4000.0", rng.choice(absurd)
    ).encode()


def _unknown_ending(rng: Random) -> tuple[str, bytes]:
    return rng.choice((".dwg", ".rvt", ".pdf", "", ".dxf.exe")), _good()[:2000]


def _lying_header(rng: Random) -> tuple[str, bytes]:
    """Units, versions and code pages that there are not."""
    data = _good()
    for told, lie in (
        (b"AC1024", rng.choice((b"AC9999", b"AC1009", b"", b"AC1015"))),
        (b"ANSI_1252", rng.choice((b"ANSI_99999", b"UTF-16", b"../../etc", b""))),
        (b"$INSUNITS\n 70\n4", b"$INSUNITS\n 70\n%d" % rng.choice((-1, 0, 3, 99, 10**12))),
    ):
        data = data.replace(told, lie, 1)
    return ".dxf", data


KINDS: dict[str, Callable[[Random], tuple[str, bytes]]] = {
    "truncated": _truncated,
    "flipped": _flipped,
    "lines-lost": _lines_lost,
    "absurd-values": _values_swapped,
    "nested-blocks": _nested_blocks,
    "self-containing": _self_containing,
    "array-of-blocks": _array_of_blocks,
    "many-entities": _many_entities,
    "wild-curves": _wild_curves,
    "tangle": _tangle,
    "xml-bomb": _xml_bomb,
    "json-bomb": _json_bomb,
    "packed": _packed,
    "wrong-ending": _wrong_ending,
    "empty": _empty,
    "noise": _noise,
    "long-lines": _long_lines,
    "ifc-truncated": _ifc_truncated,
    "ifc-flipped": _ifc_flipped,
    "ifc-rings": _ifc_rings,
    "ifc-absurd": _ifc_absurd,
    "unknown-ending": _unknown_ending,
    "lying-header": _lying_header,
}
