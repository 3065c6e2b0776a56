//! What a command that went through hands back to the front page.

/// The result of a command.
#[derive(Debug, Default)]
pub(super) struct Done {
    /// The result for standard output.
    pub text: String,
    /// Whether `--strict` was asked for and something is over, outside the data or unsolved.
    pub strict_failure: bool,
}

/// A result that `--strict` cannot object to.
impl From<String> for Done {
    fn from(text: String) -> Self {
        Self {
            text,
            strict_failure: false,
        }
    }
}
