//! Results to files: the estimate workbook, the JSON, the summary. Files appear whole or not at all.
