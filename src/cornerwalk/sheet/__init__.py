"""Sheets: job sheets (TOML) and lists of heights (CSV) to the events of a session, all or nothing.

Lists of heights are in `heights_csv`, which is not imported here: few jobs begin with one.
"""

from cornerwalk.sheet.contents import SheetContents, SheetError
from cornerwalk.sheet.job_sheet import read_job_sheet
from cornerwalk.textfiles import FileError, read_text_file

__all__ = ["FileError", "SheetContents", "SheetError", "read_job_sheet", "read_text_file"]
