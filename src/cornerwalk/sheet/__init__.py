"""Paper in: job sheets and lists of heights, as the happenings of a session. All or nothing."""

from cornerwalk.sheet.contents import SheetContents, SheetError
from cornerwalk.sheet.heights_csv import read_heights_csv
from cornerwalk.sheet.job_sheet import read_job_sheet
from cornerwalk.written import FileError, read_text_file

__all__ = ["FileError", "SheetContents", "SheetError", "read_heights_csv", "read_job_sheet", "read_text_file"]
