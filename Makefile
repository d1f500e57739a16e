# Two commands matter: `make demo` shows the program, `make test` proves it.
# Everything is installed into .venv from hashed locks; nothing else on the machine is touched,
# save Chromium, which the browser tests take from the system's packages.

SHELL := /bin/bash
PORT ?= 8000
PYTHON ?= $(shell for p in python3 python3.14 python3.13 python3.12 python3.11; do \
	$$p -c 'import sys, venv; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 \
	&& { echo $$p; break; }; done)
WORKERS ?= auto
BIN := .venv/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet install --require-hashes --no-deps

.DEFAULT_GOAL := help
.PHONY: help setup demo demo-reset run migrate test check lint types pytest chromium
.PHONY: bench bench-growth bench-watch lock clean

help: ## Say what each command does
	@grep -hE '^[a-z-]+:.*## ' Makefile | sed -E 's/^([a-z-]+):.*## /\1\t/' | expand -t 14

setup: .venv/.ready ## Make .venv with the leeboard command in it

.venv/.ready: requirements.lock pyproject.toml
	@test -n "$(PYTHON)" || { echo "Leeboard needs Python 3.11 or newer with venv."; exit 1; }
	@test -x $(BIN)/python || $(PYTHON) -m venv .venv
	$(PIP) -r requirements.lock
	$(BIN)/python -m pip --disable-pip-version-check --quiet install --no-deps --no-build-isolation --editable .
	@touch $@

.venv/.ready-for-tests: .venv/.ready requirements-dev.lock requirements-clif.lock
	$(PIP) -r requirements-dev.lock
	$(PIP) -r requirements-clif.lock
	@touch $@

demo: setup ## Show the invented unit on http://127.0.0.1:8000 (PORT= changes it)
	$(BIN)/leeboard demo --port $(PORT)

demo-reset: setup ## Start the demo over: what was charted in it is gone
	$(BIN)/leeboard demo --port $(PORT) --reset

run: setup ## Serve a real site; see README for its settings
	$(BIN)/leeboard serve --port $(PORT)

migrate: setup ## Bring the database up to this version
	$(BIN)/leeboard migrate

check: lint types ## Lint, types, templates

lint: .venv/.ready-for-tests
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/djlint templates --lint --quiet

types: .venv/.ready-for-tests
	$(BIN)/mypy

pytest: .venv/.ready-for-tests
	$(BIN)/pytest -n $(WORKERS) --dist loadgroup

chromium:
	bash .ci/chromium

# Two at a time where neither needs the other; make fails when either does, once both have ended.
test: ## Everything: lint, types, both databases, a real browser
	$(MAKE) --no-print-directory --jobs=2 .venv/.ready-for-tests chromium
	$(MAKE) --no-print-directory lint
	$(MAKE) --no-print-directory --jobs=2 types pytest

bench: .venv/.ready-for-tests ## Print what things cost against floors measured in the same run
	$(BIN)/python -m tests.bench

bench-growth: .venv/.ready-for-tests ## The same with ten million readings behind it (minutes, and some 6 GB)
	$(BIN)/python -m tests.bench.growth

bench-watch: .venv/.ready-for-tests ## Print what the rules find on simulated courses (WRITE=1 keeps it for /help/watch)
	$(BIN)/python -m tests.bench.watch $(if $(WRITE),--write)

LOCK = uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url --no-header

lock: ## Renew the locks (needs uv)
	$(LOCK) --extra build pyproject.toml --output-file requirements.lock
	$(LOCK) --extra build --extra dev pyproject.toml --output-file requirements-dev.lock

clean: ## Remove the environment and caches; the data folder stays
	rm -rf .venv .mypy_cache .pytest_cache .ruff_cache .hypothesis build
