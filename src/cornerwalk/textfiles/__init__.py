"""Files that people write: read safely, with the line on which each thing stands. Imports no other room."""

from cornerwalk.textfiles.files import FileError, read_text_file, replace_file, replace_text_file
from cornerwalk.textfiles.problems import Problem, Words, WrittenError, one_line
from cornerwalk.textfiles.toml_table import Problems, Refusal, Table, shortened
from cornerwalk.textfiles.toml_text import Number, TomlError, TomlText, parse_toml

__all__ = [
    "FileError",
    "Number",
    "Problem",
    "Problems",
    "Refusal",
    "Table",
    "TomlError",
    "TomlText",
    "Words",
    "WrittenError",
    "one_line",
    "parse_toml",
    "read_text_file",
    "replace_file",
    "replace_text_file",
    "shortened",
]
