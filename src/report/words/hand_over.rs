//! A line on which the supercharger never hands over.

/// What is to be said where no hand-over was found, from the engine speeds in rpm, rising, and whether
/// the supercharger compresses there. `None` where there is nothing to hand over, or where it changes
/// on the way.
pub fn no_hand_over(works: &[(f64, bool)]) -> Option<String> {
    let (&(from, first), &(to, _)) = (works.first()?, works.last()?);
    if works.iter().any(|(_, works)| *works != first) {
        return None;
    }
    let who = if first {
        "the supercharger leads throughout, and the turbo never takes over"
    } else {
        "the turbo has already taken over at the lowest speed"
    };
    Some(format!(
        "No hand-over between {from:.0} and {to:.0} rpm: {who}.\n"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_without_a_hand_over_says_who_carries() {
        let text = no_hand_over(&[(1200.0, true), (2400.0, true), (3600.0, true)]).unwrap();
        let wanted = "No hand-over between 1200 and 3600 rpm: the supercharger leads throughout, and the \
                      turbo never takes over.\n";
        assert_eq!(text, wanted);
        let text = no_hand_over(&[(1800.0, false), (3600.0, false)]).unwrap();
        assert!(text.ends_with("at the lowest speed.\n"), "{text}");
    }

    #[test]
    fn a_line_that_changes_or_has_nothing_to_hand_over_says_nothing() {
        assert_eq!(no_hand_over(&[(1200.0, true), (2400.0, false)]), None);
        assert_eq!(no_hand_over(&[]), None);
    }
}
