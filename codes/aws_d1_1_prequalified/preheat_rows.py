"""AWS D1.1, Table 5.8 [3.3]: minimum preheat and interpass temperature, and the steels of each category, as data."""

from codes.aws_d1_1.unit_sets import Heat, Size

# Upper ends of the bands of thickness; the last band has none.
BANDS = (Size("3/4", "20"), Size("1-1/2", "38"), Size("2-1/2", "65"))

# Category -> minimum in each band. A: SMAW with other than low-hydrogen electrodes; B, C: low-hydrogen processes;
# D: fillers of at most 8 ml/100 g diffusible hydrogen.
MINIMA: dict[str, tuple[Heat, Heat, Heat, Heat]] = {
    "A": (Heat(32, 0), Heat(150, 65), Heat(225, 110), Heat(300, 150)),
    "B": (Heat(32, 0), Heat(50, 10), Heat(150, 65), Heat(225, 110)),
    "C": (Heat(50, 10), Heat(150, 65), Heat(225, 110), Heat(300, 150)),
    "D": (Heat(32, 0), Heat(32, 0), Heat(32, 0), Heat(32, 0)),
}
COLD, WHEN_COLD = Heat(32, 0), Heat(70, 20)
"""Note a: parent metal below the first is heated to the second and held there."""
D_HYDROGEN_ML = 8

# Category -> specification -> grades; an empty tuple is every grade listed of it.
A: dict[str, tuple[str, ...]] = {
    "A36": (), "A53": ("B",), "A106": ("B",), "A131": ("A", "B", "CS", "D", "DS", "E"), "A139": ("B",),
    "A381": ("Y35",), "A500": ("A", "B", "C"), "A501": ("A",), "A516": (), "A524": ("I", "II"), "A573": ("65",),
    "A709": ("36",), "A1008 SS": (), "A1011 SS": (), "A1018 SS": (), "API 5L": ("B", "X42"),
    "ABS": ("A", "B", "D", "CS", "DS", "E"),
}  # fmt: skip
B: dict[str, tuple[str, ...]] = {
    "A131": ("AH32", "DH32", "EH32", "AH36", "DH36", "EH36"), "ABS": ("AH32", "DH32", "EH32", "AH36", "DH36", "EH36"),
    "A501": ("B",), "A516": (), "A529": ("50", "55"), "A537": ("Cl 1", "Cl 2"), "A572": ("42", "50", "55"),
    "A588": (), "A595": (), "A606": (), "A618": (), "A633": ("A", "C", "D"),
    "A709": ("36", "50", "50W", "50S", "HPS 50W"), "A808": (), "A913": ("50",), "A992": (), "A1066": ("50",),
    "A1085": (), "API 2H": (), "API 2MT1": (), "API 2W": ("42", "50", "50T"), "API 2Y": ("42", "50", "50T"),
}  # fmt: skip
C: dict[str, tuple[str, ...]] = {
    "A572": ("60", "65"), "A633": ("E",), "A709": ("HPS 70W",), "A852": (), "A913": ("60", "65"), "API 2W": ("60",),
    "API 2Y": ("60",), "API 5L": ("X52",),
}  # fmt: skip
D: dict[str, tuple[str, ...]] = {"A710": (), "A913": ("50", "60", "65")}
# A710 Gr A changes its category with its group: B over 2 in [50 mm], else C.
BY_THICKNESS = "A710"
