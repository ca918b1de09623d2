"""How the source hangs together: who may import whom, how large things are, and what they are called.

Imports point down: cli asks answers and lays them out with report; answers put design and library together into what
physics works on; physics knows neither. Every import counts, at the top of a module, inside a function, or for types.
"""

import ast
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[1] / "src" / "gudgeon"

MAY_IMPORT: dict[str, set[str]] = {
    "errors": set(),
    "units": {"errors"},
    "kernels": set(),
    "library": {"units", "errors"},
    "design": {"units", "errors"},
    "shop": {"design", "units", "errors"},
    "physics": {"kernels", "units", "errors"},
    "answers": {"physics", "library", "design", "shop", "units", "errors"},
    "report": {"answers", "physics", "units", "errors"},
    "web": {"answers", "report", "shop", "design", "units", "errors"},
    "cli": {"answers", "report", "shop", "design", "web", "units", "errors"},
}
"""What each folder may import, besides itself. A folder that is not built yet may stand here; one that is must."""

MOST_LINES = 400
MOST_FUNCTION_LINES = 60
SHY_OF_WORDS = {"utils", "util", "helpers", "common", "base", "misc"}
SILENT = ("kernels", "physics", "library", "design", "shop", "answers")
KERNEL_LIBRARIES = {"math", "numpy", "numba", "llvmlite", "operator", "typing", "collections"}
ONE_FOLDER_ONLY = {"pydantic": "design", "reportlab": "report", "numba": "kernels", "sqlite3": "shop",
                   "typer": "cli", "manifold3d": "physics"}  # fmt: skip

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


@dataclass(frozen=True)
class Module:
    """One file of the source: its dotted name without the package's, and its tree."""

    name: str
    text: str

    @property
    def folder(self) -> str:
        """The folder it lives in; its own name when it lives in none."""
        return self.name.partition(".")[0]

    @property
    def tree(self) -> ast.Module:
        """What is written in it."""
        return _parsed(self.text)


@cache
def _parsed(text: str) -> ast.Module:
    return ast.parse(text)


def modules_in(root: Path) -> dict[str, Module]:
    """Every module under a package's folder by its dotted name; `__init__` stands under its folder's own."""
    found = {}
    for path in sorted(root.rglob("*.py")):
        parts = path.relative_to(root).with_suffix("").parts
        name = ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
        found[name] = Module(name, path.read_text(encoding="utf-8"))
    return found


MODULES = modules_in(SOURCE)
NAMED = {name: module for name, module in MODULES.items() if "." in name or name in ("errors", "units")}


def imported(module: Module, known: Mapping[str, Module]) -> Iterator[str]:
    """What a module imports of the package, as dotted names without the package's; "" is the package root."""
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            whole = [f"{node.module}.{alias.name}" for alias in node.names]
            names = [name if name.removeprefix("gudgeon.") in known else str(node.module) for name in whole]
        else:
            continue
        yield from (name.partition(".")[2] for name in names if name.partition(".")[0] == "gudgeon")


def outside(module: Module) -> set[str]:
    """The libraries a module imports, the package itself left out."""
    found = set()
    for node in ast.walk(module.tree):
        if isinstance(node, ast.Import):
            found |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            found.add(node.module.partition(".")[0])
    return found - {"gudgeon"}


def uphill(modules: Mapping[str, Module]) -> list[str]:
    """Every import that the table does not allow."""
    faults = []
    for module in modules.values():
        if module.folder and module.folder not in MAY_IMPORT:
            faults.append(f"{module.name}: folder {module.folder} is not in the table")
            continue
        allowed = MAY_IMPORT.get(module.folder, set()) | {module.folder}
        for target in imported(module, modules):
            if not target:
                faults.append(f"{module.name} imports from the package root")
            elif target.partition(".")[0] not in allowed:
                faults.append(f"{module.name} imports {target}")
    return faults


def loops(modules: Mapping[str, Module]) -> list[str]:
    """Modules that reach themselves through their imports."""
    edges = {name: set(imported(module, modules)) for name, module in modules.items()}
    found = []
    for start in edges:
        seen: set[str] = set()
        ahead = list(edges[start])
        while ahead:
            here = ahead.pop()
            if here not in seen:
                seen.add(here)
                ahead += edges.get(here, ())
        if start in seen:
            found.append(start)
    return found


def definitions(modules: Iterable[Module]) -> Iterator[tuple[str, Definition]]:
    """Every function and class, with its module's name before its own."""
    for module in modules:
        for node in ast.walk(module.tree):
            if isinstance(node, Definition):
                yield f"{module.name}.{node.name}", node


def public(module: Module) -> Iterator[tuple[str, Definition]]:
    """Functions and classes of a module that others may use, and the methods of those classes."""
    for node in module.tree.body:
        if isinstance(node, Definition) and not node.name.startswith("_"):
            yield f"{module.name}.{node.name}", node
            inside = node.body if isinstance(node, ast.ClassDef) else []
            for part in inside:
                if isinstance(part, ast.FunctionDef) and not part.name.startswith("_"):
                    yield f"{module.name}.{node.name}.{part.name}", part


def length(node: Definition) -> int:
    """Lines from the first to the last of a definition, decorators left out."""
    return (node.end_lineno or node.lineno) - node.lineno + 1


def test_imports_point_down() -> None:
    assert uphill(MODULES) == []


def test_imports_make_no_loops() -> None:
    assert loops(MODULES) == []


def test_imports_are_absolute() -> None:
    relative = [name for name, module in MODULES.items() for node in ast.walk(module.tree)
                if isinstance(node, ast.ImportFrom) and node.level]  # fmt: skip
    assert relative == []


def test_what_is_imported_exists() -> None:
    missing = [f"{name} imports {target}" for name, module in MODULES.items()
               for target in imported(module, MODULES) if target and target not in MODULES]  # fmt: skip
    assert missing == []


def test_each_library_sits_behind_one_folder() -> None:
    strays = [f"{name} imports {library}" for name, module in MODULES.items() for library in outside(module)
              if ONE_FOLDER_ONLY.get(library, module.folder) != module.folder]  # fmt: skip
    assert strays == []


def test_kernels_are_arithmetic_only() -> None:
    strays = [f"{name} imports {outside(module)}" for name, module in MODULES.items()
              if module.folder == "kernels" and outside(module) - KERNEL_LIBRARIES]  # fmt: skip
    assert strays == []


def test_folders_are_two_levels_deep() -> None:
    assert [name for name in MODULES if name.count(".") > 1] == []


def test_modules_are_small_and_named_once() -> None:
    large = [name for name, module in MODULES.items() if len(module.text.splitlines()) >= MOST_LINES]
    assert large == []
    names = Counter(name.rpartition(".")[2] for name in NAMED)
    assert [name for name, times in names.items() if times > 1] == []
    folders = {name.partition(".")[0] for name in NAMED if "." in name}
    assert [name for name in names if name in SHY_OF_WORDS | folders] == []


def test_package_files_hold_nothing_but_the_version() -> None:
    for name, module in MODULES.items():
        if name not in NAMED:
            held = [node for node in module.tree.body if not isinstance(node, ast.Expr)]
            kinds = [type(node) for node in held]
            assert kinds == ([ast.Assign] if name == "" else []), name


def test_functions_are_short() -> None:
    assert [f"{name}: {length(node)} lines" for name, node in definitions(MODULES.values())
            if not isinstance(node, ast.ClassDef) and length(node) > MOST_FUNCTION_LINES] == []  # fmt: skip


def test_most_functions_are_under_twenty_lines() -> None:
    lengths = [length(node) for _, node in definitions(MODULES.values()) if not isinstance(node, ast.ClassDef)]
    assert sum(lines < 20 for lines in lengths) > 0.8 * len(lengths)


def test_everything_public_says_what_it_gives() -> None:
    assert [name for name, module in NAMED.items() if not ast.get_docstring(module.tree)] == []
    silent = [name for module in MODULES.values() for name, node in public(module) if not ast.get_docstring(node)]
    assert silent == []


def test_nothing_below_the_report_prints_or_logs() -> None:
    loud = [f"{name}: {node.func.id}" for name, module in MODULES.items() if module.folder in SILENT
            for node in ast.walk(module.tree)
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"]  # fmt: skip
    assert loud == []
    assert [name for name, module in MODULES.items() if module.folder in SILENT and "logging" in outside(module)] == []


FILES = {
    "errors": "",
    "units": "from gudgeon.errors import Refusal",
    "physics.hull": "from gudgeon.units import read",
    "answers.check": "from gudgeon.physics.hull import Hull",
}


def broken(name: str, text: str) -> dict[str, Module]:
    """A small package of the same make with one module written anew."""
    return {place: Module(place, words) for place, words in (FILES | {name: text}).items()}


def test_a_package_in_order_passes() -> None:
    assert uphill(broken("errors", "")) == []
    assert loops(broken("errors", "")) == []


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("physics.hull", "from gudgeon.answers.check import check", "physics.hull imports answers.check"),
        ("physics.hull", "def f():\n    import gudgeon.answers.check", "physics.hull imports answers.check"),
        ("units", "if True:\n    from gudgeon.physics import hull", "units imports physics.hull"),
        ("physics.hull", "from gudgeon import __version__", "physics.hull imports from the package root"),
        ("physics.hull", "import gudgeon", "physics.hull imports from the package root"),
        ("gadgets.thing", "", "gadgets.thing: folder gadgets is not in the table"),
    ],
)
def test_an_import_that_points_up_is_found(name: str, text: str, fault: str) -> None:
    assert uphill(broken(name, text)) == [fault]


def test_a_loop_inside_a_folder_is_found() -> None:
    modules = broken("physics.mass", "from gudgeon.physics.hull import Hull")
    modules["physics.hull"] = Module("physics.hull", "def f():\n    from gudgeon.physics.mass import add")
    assert loops(modules) == ["physics.hull", "physics.mass"]
