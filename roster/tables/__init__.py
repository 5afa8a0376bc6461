"""Reading tabular files, CSV and XLSX, into plain rows of named cells. Knows no Django and no loader."""
