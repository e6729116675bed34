PYTHON ?= python3
.PHONY: demo test lint bench pages lock help
demo test lint bench pages lock help:
	$(PYTHON) dev.py $@
