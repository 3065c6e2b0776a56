//! What a misspelt word was meant to be.

/// The nearest of some words to what was written, where one is near: at most a third of it has to
/// be changed, or one is the start of the other.
pub fn nearest<'w>(written: &str, words: impl IntoIterator<Item = &'w str>) -> Option<&'w str> {
    let written = written.to_lowercase().replace(['-', ' '], "_");
    let reach = written.chars().count() / 3;
    let distance = |word: &str| {
        let begins =
            written.len() >= 4 && (word.starts_with(&written) || written.starts_with(word));
        if begins {
            1
        } else {
            strsim::osa_distance(&written, word)
        }
    };
    words
        .into_iter()
        .map(|word| (distance(word), word))
        .filter(|(far, _)| *far <= reach)
        .min_by_key(|(far, _)| *far)
        .map(|(_, word)| word)
}
