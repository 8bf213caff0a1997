"""Takes the shared library along into the package; compiles nothing."""

import os
import shutil
import sys
from pathlib import Path

from setuptools import Distribution, setup
from setuptools.command.build_py import build_py

try:
    from setuptools.command.bdist_wheel import bdist_wheel
except ImportError:  # before setuptools 70
    from wheel.bdist_wheel import bdist_wheel

NAME = {"darwin": "libferrogall.dylib", "win32": "ferrogall.dll"}.get(
    sys.platform, "libferrogall.so"
)


def shared_library() -> Path:
    named = os.environ.get("FERROGALL_LIBRARY")
    target = Path(__file__).resolve().parent / "../../target"
    places = [Path(named)] if named else [target / "release" / NAME, target / "debug" / NAME]
    for place in places:
        if place.is_file():
            return place.resolve()
    raise SystemExit(
        f"no shared library at {' or '.join(map(str, places))}; build it with\n"
        "  cargo rustc --release --lib --features capi --crate-type cdylib,staticlib\n"
        "or say where it is in FERROGALL_LIBRARY"
    )


class WithLibrary(build_py):
    def run(self) -> None:
        super().run()
        package = Path(self.build_lib) / "ferrogall"
        package.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(shared_library(), package / NAME)


class ForThisPlatform(Distribution):
    def has_ext_modules(self) -> bool:
        return True


class AnyPython(bdist_wheel):
    """One wheel for every Python 3 of the platform: ctypes binds at run time."""

    def get_tag(self):
        return "py3", "none", super().get_tag()[2]


setup(
    distclass=ForThisPlatform,
    cmdclass={"build_py": WithLibrary, "bdist_wheel": AnyPython},
)
