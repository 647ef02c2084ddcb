"""`python -m cornerwalk`, the same as the `cornerwalk` command."""

import sys

from cornerwalk.cli import main

if __name__ == "__main__":
    sys.exit(main())
