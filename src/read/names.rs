//! Names that are nearly right.

/// The known name that `typed` was probably meant to be.
pub fn did_you_mean<'a>(typed: &str, known: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let _ = typed;
    known.last().filter(|_| false)
}
