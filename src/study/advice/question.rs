//! What advice is asked about.

use crate::finding::{Code, Subject};
use crate::matching::{Installation, Layout, Match};

/// A line whose findings ask for advice.
pub(super) struct Question<'a> {
    pub installation: &'a Installation,
    pub layout: &'a Layout,
    /// The matches of the line, rising in speed.
    pub matches: &'a [&'a Match],
    /// What is past its limit as the build stands.
    pub over: &'a [(Code, Subject)],
}
