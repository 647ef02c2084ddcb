"""Reports: an assessment on paper and in files. Importing this package loads nothing.

| wanted | from |
|---|---|
| a report as blocks | `file_report`, `customer`, `worksheet`, `comparison`, `result_blocks` |
| blocks as text, web page or PDF | `text.as_text`, `html.as_html`, `pdf.as_pdf` |
| figures for machines | `results.results_document`, `results.results_schema`, `results_csv.results_csv` |
| the figures kept with a handover, and their check | `handover`, `audit` |
| a session without the customer's own data | `privacy` |
| drawings, and the code for telephones | `drawing`, `geometry`, `qr` |
"""
