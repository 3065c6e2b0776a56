//! Helpers that several test programs share.

pub mod recipe;
