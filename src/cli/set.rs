//! `--set KEY=VALUE`: values laid over the build's own.

use super::failure::Failure;
use crate::input::Override;

/// Most words of a key.
const DEEPEST: usize = 10;

/// The `--set` values.
pub(super) fn overrides(set: &[String]) -> Result<Vec<Override>, Failure> {
    let parse = |text: &String| {
        let one = Override::parse(text).ok_or_else(|| {
            Failure::usage(&format!(
                "--set: expected KEY=VALUE, as in --set supercharger.drive_ratio=2.3; got {text:?}"
            ))
        })?;
        not_too_deep("--set", &one)?;
        Ok(one)
    };
    set.iter().map(parse).collect()
}

/// Refuses a key with more words than any build has sections within each other.
pub(super) fn not_too_deep(option: &str, one: &Override) -> Result<(), Failure> {
    let words = one.key.split('.').count();
    if words > DEEPEST {
        return Err(Failure::usage(&format!(
            "{option} {}: a key of {words} words; none has more than {DEEPEST}",
            one.key
        )));
    }
    Ok(())
}
