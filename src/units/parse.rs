//! Text to quantities.
