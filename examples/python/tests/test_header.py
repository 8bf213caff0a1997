"""The package against ferrogall.h: structs, functions, constants."""

import ctypes as c
import re
import unittest
from pathlib import Path

import ferrogall
from ferrogall import _library, _structs, _structs_cupboard, constants, held, olden

ROOT = Path(__file__).parents[3]
HEADER = (ROOT / "include" / "ferrogall.h").read_text("utf-8")
STRUCTS = {
    name: struct
    for module in (_structs, _structs_cupboard)
    for name, struct in vars(module).items()
    if name.startswith("Fgall")
}
CONSTANTS = {name: int(value) for name, value in re.findall(r"#define (FGALL_\w+) (\d+)\n", HEADER)}
SCALARS = {
    "double": c.c_double,
    "size_t": c.c_size_t,
    "ptrdiff_t": c.c_ssize_t,
    "int32_t": c.c_int32,
    "uint32_t": c.c_uint32,
    "uint64_t": c.c_uint64,
    "FgallStatus": c.c_uint32,
    "FgallRange": _structs.FgallRange,
    "FgallWindow": _structs_cupboard.FgallWindow,
}
HANDLES = ("FgallShelf", "FgallRecipe", "FgallColumns", "FgallSolver", "FgallStudy", "FgallBlend")
# Functions whose rows and status are places in a buffer.
OF_ROWS = (
    "fgall_columns_evaluate",
    "fgall_columns_equilibrium",
    "fgall_solver_rows",
    "fgall_forecast_rows",
    "fgall_extraction_rows",
    "fgall_titration_rows",
    "fgall_shelf_make_rows",
)


def type_of(base, stars):
    """What a C type is for ctypes; `stars` pointers to `base`."""
    if base == "char":
        return c.c_char_p
    if base in HANDLES:
        return c.c_void_p if stars == 1 else c.POINTER(c.c_void_p)
    kind = SCALARS[base] if base in SCALARS else STRUCTS[base]
    return c.POINTER(kind) if stars else kind


def structs_of_the_header():
    for body, name in re.findall(r"typedef struct \{(.*?)\n\} (Fgall\w+);", HEADER, re.S):
        code = re.sub(r"//.*", "", body)
        yield name, re.findall(r"(?:const )?(\w+) (\*?)(\w+)(?:\[(\w+)\])?;", code)


def functions_of_the_header():
    code = re.sub(r"//.*|/\*.*?\*/|#.*", "", HEADER.replace("*/", "*/\n"))
    pattern = r"^(?:const )?(\w+) (\*?)(fgall_\w+)\(([^)]*)\);"
    for base, star, name, arguments in re.findall(pattern, code, re.M):
        given = [] if arguments == "void" else [a.strip() for a in arguments.split(",")]
        pieces = [re.fullmatch(r"(?:const )?(\w+) (\**)(\w+)", one) for one in given]
        yield name, base, star, [(p[1], len(p[2]), p[3]) for p in pieces]


class Header(unittest.TestCase):
    def test_package_and_library_have_one_version(self):
        project = (ROOT / "examples" / "python" / "pyproject.toml").read_text("utf-8")
        self.assertIn(f'\nversion = "{ferrogall.__version__}"\n', project)

    def test_structs_have_the_fields_of_the_header(self):
        seen = set()
        for name, declared in structs_of_the_header():
            seen.add(name)
            expected = []
            for base, star, field, length in declared:
                if length:
                    count = CONSTANTS.get(length) or int(length)
                    item = c.c_char if base == "char" else SCALARS[base]
                    expected.append((field, item * count))
                elif name in ("FgallColumn", "FgallOutColumn") and field == "data":
                    expected.append((field, c.c_void_p))  # need not be aligned
                else:
                    expected.append((field, type_of(base, len(star))))
            with self.subTest(name):
                self.assertEqual(list(STRUCTS[name]._fields_), expected)
        self.assertEqual(seen, set(STRUCTS))

    def test_functions_have_the_arguments_of_the_header(self):
        seen = set()
        untyped = {"rows", "status"}
        for name, base, star, declared in functions_of_the_header():
            if name in OF_ROWS:
                self.assertTrue(untyped <= {argument for _, _, argument in declared})
            seen.add(name)
            arguments = [
                c.c_void_p
                if name in OF_ROWS and argument in untyped
                else type_of(kind, stars)
                for kind, stars, argument in declared
            ]
            result = None if base == "void" else type_of(base, len(star))
            function = _library._functions[name]
            with self.subTest(name):
                self.assertEqual(list(function.argtypes), arguments)
                self.assertIs(function.restype, result)
        self.assertEqual(seen, set(_library._functions))

    def test_enumerations_are_those_of_the_header(self):
        families = {
            "KIND": constants.Kind,
            "BAUME": constants.Baume,
            "LINE": constants.LineKind,
            "TOOL": constants.ToolKind,
            "EQUAL": constants.Equal,
            "SEVERITY": constants.Severity,
            "CONSTANTS": constants.Constants,
            "MASTER": constants.Master,
            "MEASURE": constants.MeasureKind,
            "ADVICE": constants.Advice,
            "SEEN": constants.Seen,
            "VARIED": constants.Varied,
            "ACT": constants.Act,
            "LAW": constants.Law,
            "MEASURAND": constants.Measurand,
            "METHOD": constants.Method,
            "REMEDY": constants.Remedy,
            "SHAPE": constants.Shape,
            "GRAIN": constants.Grain,
            "STRAINING": constants.Straining,
            "TITRANT": constants.Titrant,
            "SAMPLE": constants.Sample,
            "FOUND": constants.Found,
            "READ": constants.Read,
            "DRIED_TO": constants.DriedTo,
            "STOCK": constants.StockSalt,
            "ADDING": constants.Adding,
            "OBJECTIVE": constants.Objective,
            "WANTED": constants.Figure,
            "DOCUMENT": held.Document,
            "STANDING": held.Standing,
            "CLAUSE": held.Requires,
            "HELD": held.Held,
            "TOGETHER": held.Together,
            "QUANTITY": olden.QuantityKind,
            "BOOK": olden.Book,
            "GOODS": olden.Goods,
            "USE": olden.Use,
            "FIGURE": olden.Figure,
            "ROLE": olden.Role,
            "ENDING": olden.Ending,
        }
        for prefix, family in families.items():
            start = f"FGALL_{prefix}_"
            expected = {k[len(start) :]: v for k, v in CONSTANTS.items() if k.startswith(start)}
            self.assertEqual({member.name: member.value for member in family}, expected)
        for verdict in constants.Balance:
            self.assertEqual(CONSTANTS[f"FGALL_{verdict.name}"], verdict)
        before, _ = HEADER.split("#define FGALL_ABI_VERSION")
        codes = dict(re.findall(r"#define FGALL_(\w+) (\d+)\n", before))
        self.assertEqual(
            {member.name: member.value for member in constants.Status},
            {name: int(code) for name, code in codes.items()},
        )
        self.assertEqual(constants.ABI_VERSION, CONSTANTS["FGALL_ABI_VERSION"])
        self.assertEqual(constants.NAME_BYTES, CONSTANTS["FGALL_NAME_BYTES"])
        self.assertEqual(constants.TEXT_BYTES, CONSTANTS["FGALL_TEXT_BYTES"])

    def test_totals_have_a_field_for_each_component(self):
        names = [name for name, _ in _structs.FgallTotals._fields_[1:]]
        expected = [f"{master.name.lower()}_mol_per_kg" for master in sorted(constants.Master)]
        self.assertEqual(names, expected)

    def test_bits_are_those_of_the_header(self):
        tables = {
            "FgallLotSpec": constants.LOT_BITS,
            "FgallIronInAcid": constants.IRON_BITS,
            "FgallSoak": constants.SOAK_BITS,
            "FgallTargets": constants.TARGET_BITS,
            "FgallChoice": constants.CHOICE_BITS,
            "FgallBottle": constants.BOTTLE_BITS,
            "FgallSheetOptions": constants.SHEET_BITS,
            "FgallStoredInk": constants.INK_BITS,
            "FgallKeeping": constants.KEEPING_BITS,
            "FgallVessel": constants.VESSEL_BITS,
            "FgallKinetics": constants.KINETICS_BITS,
            "FgallCourse": constants.COURSE_BITS,
            "FgallWriting": constants.WRITING_BITS,
            "FgallKnown": constants.KNOWN_BITS,
            "FgallExtraction": constants.EXTRACTION_BITS,
            "FgallTitration": constants.TITRATION_BITS,
            "FgallPhenanthroline": constants.PHENANTHROLINE_BITS,
            "FgallNail": constants.NAIL_BITS,
            "FgallSpotTest": constants.SPOT_BITS,
            "FgallStore": constants.STORE_BITS,
            "FgallWanted": constants.WANTED_BITS,
        }
        pattern = r"// Bit of (\w+)\.(?:set|known): ((?:.|\n// )*?)\.\n#define FGALL_(\w+) (\d+)"
        for struct, text, define, bit in re.findall(pattern, HEADER):
            with self.subTest(struct=struct, bit=bit):
                if struct == "FgallOxygenBound":
                    name = "BOUND_" + text.split()[0].upper()
                    self.assertEqual(getattr(constants, name), int(bit))
                elif re.search(r"has(?:\n//)? no field", text):
                    self.assertEqual(getattr(constants, define), int(bit))
                else:
                    table = tables[struct]
                    named = [n for n in re.findall(r"\w+", text) if n in table]
                    self.assertTrue(named)
                    self.assertEqual({n for n, b in table.items() if b == int(bit)}, set(named))
        self.assertEqual(len(re.findall(r"// Bit of ", HEADER)), len(re.findall(pattern, HEADER)))


if __name__ == "__main__":
    unittest.main()
