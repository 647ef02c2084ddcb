"""An Assessment on paper and in files: text, PDF, CSV, the results document."""
