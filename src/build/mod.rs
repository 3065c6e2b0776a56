//! The files that a user writes.

mod document;
mod fault;
mod overrides;
mod reader;
mod text;
mod want;

pub use document::Document;
pub use fault::{Note, Place};
pub use overrides::Override;
