//! Whatever comes in, an answer comes out.

use super::*;
use proptest::prelude::*;

/// Every answer can be shown, and what was read can be written and read again.
fn answer(text: &[u8]) {
    match read(text) {
        Ok(reading) => {
            reading.questions.iter().for_each(|question| assert!(!question.to_string().is_empty()));
            let again = read(write(&reading.engine).as_bytes());
            assert!(again.is_ok(), "{:?}\n{}", again.err(), write(&reading.engine));
        }
        Err(problems) => {
            assert!(!problems.is_empty());
            problems.iter().for_each(|problem| assert!(!problem.message.is_empty()));
        }
    }
}

proptest! {
    #[test]
    fn refuses_without_panic_any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        answer(&bytes);
    }

    #[test]
    fn refuses_without_panic_a_demo_with_bytes_changed(
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let mut bytes = DEMO.as_bytes().to_vec();
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        answer(&bytes);
    }

    #[test]
    fn refuses_without_panic_a_demo_with_lines_swapped_or_dropped(
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), any::<bool>()), 1..8),
    ) {
        let mut lines: Vec<&str> = DEMO.lines().collect();
        for (one, other, drop) in changes {
            let (one, other) = (one.index(lines.len()), other.index(lines.len()));
            if drop { lines.remove(one); } else { lines.swap(one, other); }
        }
        answer(lines.join("\n").as_bytes());
    }

    #[test]
    fn refuses_without_panic_a_demo_with_other_figures(
        changes in prop::collection::vec((any::<prop::sample::Index>(), "-?[0-9]{1,4}(\\.[0-9]{1,2})?"), 1..6),
    ) {
        let mut text = DEMO.to_owned();
        for (which, figure) in changes {
            let starts: Vec<usize> = text.match_indices("= \"").map(|(at, _)| at + 3)
                .filter(|at| text[*at..].starts_with(|c: char| c.is_ascii_digit() || c == '-')).collect();
            let start = starts[which.index(starts.len())];
            let end = start + text[start..].find([' ', '°', '"']).unwrap_or(0);
            text.replace_range(start..end, &figure);
        }
        answer(text.as_bytes());
    }
}
