"""Faults on a larger scale than a test run bears. Each is a script that prints its figures; tests run a few."""
