//! browser-tests
