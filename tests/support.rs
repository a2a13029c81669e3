//! What tests several crates together shares.
