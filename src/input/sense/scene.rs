//! One value of a key among all that was written.

use super::given::Given;
use super::view::AsWritten;

/// One value of a key among all that was written.
pub(in crate::input) struct Scene<'a> {
    pub view: &'a AsWritten<'a>,
    pub given: &'a Given,
    /// Which row of its table, from 0.
    pub row: usize,
    /// SI.
    pub value: f64,
}

impl Scene<'_> {
    /// The value of a key beside this one.
    pub fn beside(&self, key: &str) -> Option<f64> {
        self.view.value(&self.neighbour(key))
    }

    /// A word beside this key.
    pub fn word(&self, key: &str) -> Option<&str> {
        self.view.word(&self.neighbour(key))
    }

    fn neighbour(&self, key: &str) -> String {
        let section = self.given.key.rsplit_once('.').map_or("", |(path, _)| path);
        format!("{section}.{key}")
    }
}
