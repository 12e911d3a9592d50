# Each command does all of its own set-up and is safe to repeat.
PORT ?= 8000
HOST ?= 127.0.0.1

.PHONY: demo stop test test-quick test-postgres browser-test audit bench faults load format help

help:
	@echo "make demo    the register with invented data, running on http://$(HOST):$(PORT)/ (PORT=8001 for another)"
	@echo "make stop    stop it"
	@echo "make test    every check: style, types, layers, migrations, tests, browser tests"
	@echo "make test-postgres  every test that asks a database once more on PostgreSQL, nothing else"
	@echo "make audit   is there an advisory about a package that is pinned here? (fails where no service answers, too)"
	@echo "make bench   measure, as tables (JSON=1: one JSON object a line)"
	@echo "make faults  break a shop on purpose, again and again: is anything lost? (an hour or more)"
	@echo "make load    50 people at once for 5 minutes, on each database"
	@echo "make format  put the code into its one form"

demo:
	@bash scripts/set-up.sh run
	@bash scripts/demo.sh start "$(HOST)" "$(PORT)"

stop:
	@bash scripts/demo.sh stop

test:
	@bash scripts/set-up.sh test
	@bash scripts/test.sh

test-quick:
	@bash scripts/set-up.sh test
	@bash scripts/test.sh quick

test-postgres:
	@bash scripts/set-up.sh test
	@bash scripts/test.sh postgres

browser-test:
	@bash scripts/set-up.sh test
	@bash scripts/test.sh browser

audit:
	@AUDIT_URL="$(AUDIT_URL)" bash scripts/audit.sh

bench:
	@bash scripts/set-up.sh test
	@.venv/bin/python -m bench.run $(if $(JSON),--json) $(ONLY)

faults:
	@bash scripts/set-up.sh test
	@.venv/bin/python scripts/faults.py $(ARGS)

load:
	@bash scripts/set-up.sh test
	@.venv/bin/python scripts/load.py $(ARGS)

format:
	@bash scripts/set-up.sh test
	@.venv/bin/ruff check --fix . && .venv/bin/ruff format .
