//! The `flyheft` command.
fn main() {}
