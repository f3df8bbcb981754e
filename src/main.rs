//! The `loamwright` command.
fn main() {}
