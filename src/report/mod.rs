//! What a person sees: the workbook, JSON, the terminal.
