//! A keeper's own table, read by its content.
