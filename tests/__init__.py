"""The tests of cornerwalk. They mirror src/cornerwalk; shared pieces are in tests/support."""
