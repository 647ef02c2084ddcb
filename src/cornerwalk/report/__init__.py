"""An Assessment on paper and in files. Importing this package loads nothing; each module says what it needs.

| wanted | from |
|---|---|
| how a figure is said | `wording.Wording` |
| a report as blocks | `customer.customer_sheet`, `file_report.file_report`, `worksheet.blank_worksheet` |
| the blocks in a form | `text.as_text`, `html.as_html`, `pdf.as_pdf` |
| for machines | `results.results_document`, `results.results_schema`, `csv_out.results_csv` |
| what happened, in words | `history.history`, `history.event_words` |
| what a handover keeps, and its check | `figures.handed_over_figures`, `audit.audit` |
| without the customer's own | `privacy.without_customer`, `privacy.events_without_customer` |
| a code for telephones | `qr.key_figures`, `qr.code_matrix`, `qr.half_blocks` |
"""
