//! science
