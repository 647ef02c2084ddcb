"""How many small mistakes in the program its tests would notice: `python -m tests.mutation ROOM`."""
