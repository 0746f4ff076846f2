//! Orders of measures, told as tables.
