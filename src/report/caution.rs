//! The safety words, once.

/// The line that every result ends with.
pub const CAUTION: &str = "Estimates only; not an approval to build: measure before you trust them, \
keep to local rules, and have a qualified engineer check them.";

/// The dangers behind the numbers, one sentence each, for a page that has room.
pub const DANGERS: [&str; 6] = [
    "A wheel or rotor that runs over its speed bursts: shield it and stay clear of its plane.",
    "Boost and drive pressure burst hoses, coolers and manifolds: test them cold with water first.",
    "Turbine, manifold and compressed air are hot enough to burn skin and light oil or fuel.",
    "Boost needs fuel to match it: a lean petrol engine or an over-fuelled diesel destroys itself.",
    "A belt takes fingers and whips when it breaks: guard it, and never touch it while it runs.",
    "Cylinder pressure lifts heads and breaks pistons: the figure here is a rough estimate of it.",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_caution_is_one_short_line_and_the_dangers_are_one_sentence_each() {
        assert!(CAUTION.len() < 160 && !CAUTION.contains('\n'));
        for danger in DANGERS {
            assert!(danger.len() < 120 && danger.ends_with('.'), "{danger}");
            assert_eq!(danger.matches(". ").count(), 0, "{danger}");
        }
    }

    #[test]
    fn each_danger_is_named() {
        let all = DANGERS.join(" ");
        for word in ["speed", "burst", "hot", "fuel", "belt", "Cylinder pressure"] {
            assert!(all.contains(word), "{word}");
        }
        for word in ["Estimates", "local rules", "qualified"] {
            assert!(CAUTION.contains(word), "{word}");
        }
    }
}
