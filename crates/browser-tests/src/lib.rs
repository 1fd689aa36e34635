//! Tests of the page in a browser; nothing else is here.
