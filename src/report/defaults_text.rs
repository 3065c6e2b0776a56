//! What was used because the build does not give it, for reading.

use super::fields::DefaultUsed;
use super::wrap::sentences_wrapped;
use crate::input::CONVENTION;

/// The defaults of a build, a line each; empty where it gives everything.
pub fn defaults_text(defaults: &[DefaultUsed]) -> String {
    if defaults.is_empty() {
        return String::new();
    }
    let mut out = String::from("\nDefaults used (not set in the build file):\n");
    for used in defaults {
        // A convention says itself what it is.
        let says_itself = used.value.contains(used.source) || used.source == CONVENTION;
        let source = if says_itself {
            String::new()
        } else {
            format!(" ({})", used.source)
        };
        out.push_str(&format!("  {}: {}{source}\n", used.key, used.value));
    }
    sentences_wrapped(&out)
}
