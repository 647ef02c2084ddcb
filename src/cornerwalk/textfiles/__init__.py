"""Text files that people write: safe reading, and TOML with the line of each key. Imports no other room."""

from cornerwalk.textfiles.files import FileError, read_text_file, replace_file, replace_text_file
from cornerwalk.textfiles.problems import Problem, TextFileError, Translator, one_line
from cornerwalk.textfiles.toml_table import Problems, Refusal, TomlTable, shorten
from cornerwalk.textfiles.toml_text import TomlError, TomlNumber, TomlText, parse_toml

__all__ = [
    "FileError",
    "Problem",
    "Problems",
    "Refusal",
    "TextFileError",
    "TomlError",
    "TomlNumber",
    "TomlTable",
    "TomlText",
    "Translator",
    "one_line",
    "parse_toml",
    "read_text_file",
    "replace_file",
    "replace_text_file",
    "shorten",
]
