"""Paper in: job sheets and lists of heights, as the events of a session. All or nothing.

Lists of heights have their own module, `heights_csv`: few jobs begin with one, and it loads a reader of tables.
"""

from cornerwalk.sheet.contents import SheetContents, SheetError
from cornerwalk.sheet.job_sheet import read_job_sheet
from cornerwalk.textfiles import FileError, read_text_file

__all__ = ["FileError", "SheetContents", "SheetError", "read_job_sheet", "read_text_file"]
