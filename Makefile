# Two commands on a bare machine do everything: make demo, make test.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet

.PHONY: demo test lint bench docs lock clean

demo: $(VENV)/main.stamp
	$(BIN)/plankwright demo

test: lint
	tools/need.sh chromium chromium
	$(BIN)/pytest -n 2 --dist worksteal

lint: $(VENV)/test.stamp tools/node_modules/stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/lint-imports
	$(BIN)/mypy
	tools/node_modules/.bin/tsc -p tools/tsconfig.json

# Long tables, resumable, never a timed assertion; results under .bench/
bench: $(VENV)/test.stamp
	$(BIN)/python -m benchmarks.run

$(VENV)/bin/python:
	$(PYTHON) -m venv $(VENV)

$(VENV)/main.stamp: $(VENV)/bin/python requirements/main.lock pyproject.toml
	$(PIP) install --require-hashes -r requirements/main.lock
	$(PIP) install --require-hashes -r requirements/build.lock
	$(PIP) install --no-deps --no-build-isolation --editable .
	touch $@

$(VENV)/test.stamp: $(VENV)/main.stamp requirements/test.lock
	$(PIP) install --require-hashes -r requirements/test.lock
	touch $@

# The checker of types in the page's modules
tools/node_modules/stamp: tools/package-lock.json
	tools/need.sh npm nodejs npm
	npm ci --prefix tools --silent
	touch $@

# Reference pages, the README's drawing and transcript, made from the code
docs: $(VENV)/main.stamp
	$(BIN)/python -m docs.build

# For maintainers: make the hashed locks anew (needs uv; writes no registry's name).
UV := uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --quiet
lock:
	$(UV) pyproject.toml -o requirements/main.lock
	$(UV) requirements/build.in -o requirements/build.lock
	$(UV) -c requirements/main.lock -c requirements/build.lock requirements/test.in -o requirements/test.lock

clean:
	rm -rf $(VENV) tools/node_modules plankwright-demo
