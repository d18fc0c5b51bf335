"""Published network adjustments with their printed answers, as facts, each with its source.

Most are collected in F. Krumm, *Geodetic Network Adjustment Examples*, Geodaetisches Institut,
Universitaet Stuttgart, rev. 3.5 (2020). Lengths here are in the unit of the source; the networks
hold a thousandth of it, so that the program's millimeters print the source's digits.
"""

from plankwright.survey.network import Bearing, Length, Network, Observation, Turn

UNIT = 1000.0
Rough = dict[str, tuple[float, float]]


def degrees(degree: int, minute: int, second: float) -> float:
    return degree + minute / 60 + second / 3600


def lengths(table: str, sd: float | None = None) -> tuple[Observation, ...]:
    """Lines ``from to length [sd]``."""
    rows = [line.split() for line in table.strip().splitlines()]
    return tuple(
        Length(a, b, float(length) * UNIT, (float(rest[0]) if sd is None else sd) * UNIT)
        for a, b, length, *rest in rows
    )


def network(rough: Rough, observations: tuple[Observation, ...], fixed: str = "") -> Network:
    points = {name: (x * UNIT, y * UNIT) for name, (x, y) in rough.items()}
    return Network(points, observations, frozenset(fixed.split()))


# W. Benning (2011), Statistik in Geodaesie, Geoinformation und Bauwesen, ex. 8-2, p. 256
BRACED_QUADRILATERAL = network(
    {"1": (0, 1000), "2": (1000, 1000), "3": (0, 0), "4": (1000, 0)},
    lengths(
        """
        1 3 1000.02
        1 4 1414.20
        2 3 1414.24
        2 4 999.98
        3 4 1000.00
        """,
        sd=0.010,
    ),
    fixed="1 2",
)

# Benning (2011), ex. 8-8, pp. 285-291
FIVE_FIXED_POINTS = network(
    {
        "1": (3000, 2000), "2": (1000, 2000), "3": (3000, 2100), "4": (1000, 2100),
        "5": (2000, 1000), "6": (2000, 2000),
    },
    lengths(
        """
        6 1 1000.00
        6 2 1000.00
        6 3 1005.00
        6 4 1005.00
        6 5 1000.00
        """,
        sd=0.02,
    ),
    fixed="1 2 3 4 5",
)  # fmt: skip

# C. D. Ghilani (2010), Adjustment Computations, 5th ed., ex. 14.5, p. 251
GHILANI_14_5 = network(
    {
        "Bucky": (2411820.000, 386881.222), "Badger": (2410000.000, 390000.000),
        "Wisconsin": (2415776.819, 391043.461), "Campus": (2416892.670, 387603.450),
    },
    lengths(
        """
        Badger Wisconsin 5870.302
        Badger Campus 7297.588
        Wisconsin Campus 3616.434
        Wisconsin Bucky 5742.878
        Campus Bucky 5123.760
        """,
        sd=1.0,
    ),
    fixed="Bucky Badger",
)  # fmt: skip

# G. Strang and K. Borre (1997), Linear Algebra, Geodesy, and GPS, ex. 10.1 p. 345, 12.4 p. 411
STRANG_BORRE = network(
    {"1": (170.71, 270.71), "2": (100.00, 100.00), "3": (241.42, 100.00), "P": (170.71, 170.71)},
    lengths("1 P 100.01\n2 P 100.02\n3 P 100.03", sd=0.01),
    fixed="1 2 3",
)

# W. Hoepke (1980), Fehlerlehre und Ausgleichungsrechnung, ex. 35.5, pp. 120-123
HOEPKE_FREE = network(
    {
        "20": (3579041.416, 5707194.412), "75": (3575403.277, 5707682.612),
        "86": (3575322.061, 5708700.952), "87": (3576581.778, 5709938.106),
        "1006": (3578284.289, 5708758.641), "1011": (3577052.332, 5708103.204),
        "1059": (3576852.894, 5706633.642), "1087": (3576213.699, 5709199.889),
    },
    lengths(
        """
        86 1006 2962.832
        86 87 1765.657
        86 1087 1021.768
        86 75 1021.536
        86 1011 1830.646
        86 20 4012.921
        86 1059 2572.516
        1087 87 824.863
        1087 20 3466.722
        1087 1059 2644.789
        1087 75 1720.130
        1087 1006 2117.134
        1087 1011 1380.633
        1006 75 3075.373
        1006 20 1737.824
        1006 1059 2562.134
        1006 1011 1395.459
        1006 87 2071.154
        1011 87 1894.263
        1011 75 1701.824
        1011 1059 1483.088
        1011 20 2186.853
        1059 20 2259.167
        1059 75 1789.449
        1059 87 3315.630
        20 87 3684.782
        20 75 3670.735
        """,
        sd=0.001,
    ),
)  # fmt: skip

# G. Weiss and others (2010), Acta Montanistica Slovaca 15(1), 62-70; relative weights
WEISS = network(
    {
        "1": (4506.299, 9001.123), "2": (2798.622, 9502.490), "3": (3803.973, 9894.233),
        "8": (4904.569, 9413.376), "4": (3299.980, 9100.838), "5": (3697.824, 9400.545),
        "6": (3080.370, 9775.900), "7": (4393.265, 9842.503), "9": (4251.061, 9546.226),
    },
    lengths(
        """
        4 6 709.927 1.30384
        2 6 392.550 0.774597
        2 4 642.409 1.140175
        3 4 939.941 1.095445
        3 9 566.555 0.894427
        4 9 1050.204 1.048809
        1 4 1210.478 0.894427
        1 5 901.755 0.894427
        5 8 1206.806 1
        4 8 1634.747 1.140175
        4 5 498.107 1.264911
        2 5 904.962 1.183216
        2 7 1630.454 1.048809
        1 7 849.005 0.894427
        1 9 601.906 1.095445
        8 9 666.874 1.140175
        7 8 667.595 0.774597
        5 7 823.990 1.264911
        5 6 722.631 1.140175
        6 9 1193.036 0.836660
        5 9 572.094 0.836660
        3 5 504.968 1.303840
        3 7 591.506 1.264911
        7 9 328.667 0.948683
        """
    ),
    fixed="1 2 3 8",
)  # fmt: skip

# Ghilani (2010), ex. 16.1, p. 300: a link traverse
_LINK_SD = 30 / 3600
GHILANI_16_1 = network(
    {"Q": (1000, 800), "R": (1000, 1000), "S": (1223, 1186.5), "T": (1400, 1186.5),
     "U": (1173.2, 1100)},
    (
        *lengths("R U 200.00 0.05\nU S 100.00 0.08"),
        Turn("R", "Q", "U", 240.0, _LINK_SD),
        Turn("U", "R", "S", 150.0, _LINK_SD),
        Turn("S", "U", "T", degrees(240, 1, 0), _LINK_SD),
    ),
    fixed="Q R S T",
)  # fmt: skip

# C. D. Ghilani and P. R. Wolf (2012), Elementary Surveying, 13th ed., ch. 16.9.5, pp. 450-456.
# Lines: at from to degrees minutes seconds sd["]
_ANGLES = """
    A G B 107 29 40 8.9
    B A C 94 44 24 11.7
    C B D 235 09 26 13.7
    D C E 104 08 40 12.7
    E D F 124 27 36 11.2
    F E G 121 37 08 9.5
    G F A 112 23 00 8.3
    G F H 38 25 46 9.9
    H G J 243 15 20 14.6
    J H C 135 08 30 18.0
    H J G 116 44 44 14.6
    H J K 296 44 38 15.0
    K H E 131 16 30 14.3
    E K F 68 40 36 12.3
"""


def _turn(line: str) -> Turn:
    at, start, end, degree, minute, second, sd = line.split()
    value = degrees(int(degree), int(minute), float(second))
    return Turn(at, start, end, value, float(sd) / 3600)


GHILANI_WOLF = network(
    {
        "A": (415.273, 929.868), "B": (507.934, 764.652), "C": (618.952, 815.353),
        "D": (723.852, 753.287), "E": (826.128, 856.438), "F": (794.659, 1021.655),
        "G": (578.741, 1103.826), "H": (652.221, 980.245), "J": (600.595, 899.272),
        "K": (713.362, 877.418),
    },
    (
        Bearing("A", "B", degrees(150, 42, 51), 0.001 / 3600),
        *lengths(
            """
            A B 189.436
            B C 122.050
            C D 121.901
            D E 145.256
            E F 168.180
            F G 231.021
            G A 238.714
            G H 143.780
            H K 119.631
            K E 114.695
            H J 96.036
            J C 85.908
            """,
            sd=0.007,
        ),
        *(_turn(line) for line in _ANGLES.strip().splitlines()),
    ),
    fixed="A",
)  # fmt: skip
