//! The local page: addresses, forms, and the desk behind them.
//!
//! A handler parses, asks the desk, keeps, answers; no SQL, no threshold and no wording of findings stands here.
//!
//! Start with [`desk`], which pages and commands share.

pub mod desk;
