# make run     set up on a fresh machine, then the main job on the demo lure
# make test    every test
# make lint    style and types
# make bench   what is claimed of speed
#
# The tests of the page use the system's Chromium, and install it where apt-get may; CHROMIUM=/its/path names another.
# PYTHON=python3.12 make run   takes another Python; VENV=elsewhere puts the environment in another folder.

PYTHON ?= python3
VENV ?= .venv
JOBS ?= 2
IN_VENV = $(VENV)/bin/python
DEMO = examples/lanternmere.toml

.PHONY: run test lint bench clean

run: $(VENV)/.run-ready
	$(VENV)/bin/gudgeon check $(DEMO)
	@echo
	@echo "The same on paper at true size:  $(VENV)/bin/gudgeon sheets $(DEMO) --out lanternmere.pdf"
	@echo "A lure of your own:              $(VENV)/bin/gudgeon new swimmer4 --out mine.toml"

test: $(VENV)/.test-ready
	$(IN_VENV) tests/browser/browser_ready.py
	$(IN_VENV) -m pytest -n $(JOBS)

lint: $(VENV)/.test-ready
	$(IN_VENV) -m ruff check .
	$(IN_VENV) -m mypy

bench: $(VENV)/.test-ready
	$(IN_VENV) tests/browser/browser_ready.py
	$(IN_VENV) -m benchmarks
	$(IN_VENV) -m benchmarks.towing
	$(IN_VENV) -m benchmarks.workbench

clean:
	rm -rf $(VENV) build dist .pytest_cache .mypy_cache .ruff_cache .hypothesis

# Installed anew only when what is needed has changed; the source itself is used where it lies.
$(VENV)/.run-ready: pyproject.toml | $(IN_VENV)
	$(IN_VENV) -m pip install --quiet --editable .
	@touch $@

$(VENV)/.test-ready: pyproject.toml | $(IN_VENV)
	$(IN_VENV) -m pip install --quiet --editable ".[test]"
	@touch $@ $(VENV)/.run-ready

$(IN_VENV):
	@command -v $(PYTHON) >/dev/null || { echo "There is no '$(PYTHON)' here. Install Python 3.11 or newer, or name yours: PYTHON=python3.12 make run"; exit 1; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "'$(PYTHON)' is $$($(PYTHON) --version); gudgeon needs Python 3.11 or newer. Name another: PYTHON=python3.12 make run"; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { echo "'$(PYTHON)' came without venv or pip. On Debian and Ubuntu: apt install python3-venv"; exit 1; }
	$(PYTHON) -m venv $(VENV)
