"""Measurements, run by hand: `python tests/benchmarks/run.py`. They are no tests: a busy machine is no failure."""
