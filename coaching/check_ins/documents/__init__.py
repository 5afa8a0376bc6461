"""A pack as paper, workbook and table: what stands in it is placed, and nothing is worked out.

Libraries that set and write are loaded when something is asked for.
"""

from coaching.check_ins.documents.file_names import Kind, file_name_of
from coaching.check_ins.documents.papers import pdf_of
from coaching.check_ins.documents.tables import csv_of
from coaching.check_ins.documents.workbooks import workbook_of

__all__ = ["Kind", "csv_of", "file_name_of", "pdf_of", "workbook_of"]
