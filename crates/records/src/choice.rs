//! Words that stand for one of a few things: the kebab-case keys of the case file, of tables and of forms.

/// One of a few things, each with its key.
pub trait Choice: Sized + Copy + 'static {
    /// What is chosen, in the reader's words: «outcome of a meal».
    const WHAT: &'static str;
    /// All of them, in the order in which they are shown.
    const ALL: &'static [Self];
    /// The key under which it is written.
    fn key(self) -> &'static str;
    /// The inverse of [`Choice::key`].
    fn from_key(key: &str) -> Option<Self>;
    /// The keys of all.
    fn keys() -> impl Iterator<Item = &'static str> {
        Self::ALL.iter().map(|one| one.key())
    }
    /// The key as words: «warm-air» is «warm air».
    fn words(self) -> String {
        self.key().replace('-', " ")
    }
}

/// Declares an enum whose variants are written by their keys.
#[macro_export]
macro_rules! choices {
    ($(#[$doc:meta])* $name:ident, $what:literal, { $($(#[$vdoc:meta])* $variant:ident = $key:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$vdoc])* #[doc = concat!("`", $key, "`")] $variant),+ }
        impl $crate::choice::Choice for $name {
            const WHAT: &'static str = $what;
            const ALL: &'static [Self] = &[$($name::$variant),+];
            fn key(self) -> &'static str { match self { $($name::$variant => $key),+ } }
            fn from_key(key: &str) -> Option<Self> { match key { $($key => Some($name::$variant),)+ _ => None } }
        }
        impl std::fmt::Display for $name {
            fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                out.write_str($crate::choice::Choice::key(*self))
            }
        }
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.serialize_str($crate::choice::Choice::key(*self))
            }
        }
    };
}
