//! The data files, held in the program.

/// All files of `data/`, each as name and text.
pub(crate) const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/files.rs"));
