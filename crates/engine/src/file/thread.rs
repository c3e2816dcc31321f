//! Metric threads: designation to pitch (ISO 261:1998, general plan; values as in published/data/metric_threads.csv
//! up to M10, M7 and the sizes from M12 on from memory).

/// Size, coarse pitch, fine pitches, all in mm.
const METRIC: &[(f64, f64, &[f64])] = &[
    (3.0, 0.5, &[0.35]),
    (4.0, 0.7, &[0.5]),
    (5.0, 0.8, &[0.5]),
    (6.0, 1.0, &[0.75]),
    (7.0, 1.0, &[0.75]),
    (8.0, 1.25, &[1.0, 0.75]),
    (10.0, 1.5, &[1.25, 1.0, 0.75]),
    (12.0, 1.75, &[1.5, 1.25, 1.0]),
    (14.0, 2.0, &[1.5, 1.25, 1.0]),
    (16.0, 2.0, &[1.5, 1.0]),
];

/// A thread read from its designation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Designation {
    /// Pitch, m.
    pub(super) pitch_m: f64,
    /// Only the size was written, so the coarse pitch was taken.
    pub(super) coarse_assumed: bool,
}

/// Reads `M6 x 1`, `M6x0.75`, `M6×1` or `M6` (coarse).
///
/// # Errors
/// One sentence with the pitches that the size can have.
pub(super) fn read(text: &str) -> Result<Designation, String> {
    let tidy = text.trim().replace(['×', 'X', '*'], "x").replace(',', ".").replace(' ', "");
    let unknown = || {
        format!(
            "'{}' is no metric thread known here; write it like 'M6 x 1' (M3 to M16), or give pitch = \"1.00 mm\" instead of thread",
            excerpt(text)
        )
    };
    let body = tidy.strip_prefix(['M', 'm']).ok_or_else(unknown)?;
    let (size, pitch) = match body.split_once('x') {
        Some((size, pitch)) => (size, Some(pitch.trim_end_matches("mm"))),
        None => (body, None),
    };
    let size: f64 = size.parse().map_err(|_| unknown())?;
    let (_, coarse, fine) = METRIC.iter().find(|(known, ..)| *known == size).ok_or_else(unknown)?;
    let Some(pitch) = pitch else {
        return Ok(Designation { pitch_m: coarse * 1e-3, coarse_assumed: true });
    };
    let pitch: f64 = pitch.parse().map_err(|_| unknown())?;
    if pitch == *coarse || fine.contains(&pitch) {
        return Ok(Designation { pitch_m: pitch * 1e-3, coarse_assumed: false });
    }
    let fine: Vec<String> = fine.iter().map(|fine| format!("{fine} mm")).collect();
    Err(format!(
        "'{}' is no standard thread: M{size} has the pitch {coarse} mm (coarse) or {} (fine); mend it, or give pitch = \"{pitch} mm\" instead of thread if it was measured so",
        excerpt(text),
        fine.join(" or "),
    ))
}

fn excerpt(text: &str) -> String {
    text.trim().chars().take(40).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn exact_reads_the_ways_a_thread_is_written() {
        for text in ["M6 x 1", "M6x1", "m6 × 1.0", "M6 X 1 mm", "M6x1,0"] {
            assert_eq!(read(text), Ok(Designation { pitch_m: 1e-3, coarse_assumed: false }), "{text}");
        }
        assert_eq!(read("M6"), Ok(Designation { pitch_m: 1e-3, coarse_assumed: true }));
        assert_eq!(read("M8 x 0.75").map(|thread| thread.pitch_m), Ok(0.75e-3));
    }

    #[test]
    fn refuses_a_pitch_that_the_size_does_not_have() {
        assert_eq!(
            read("M6 x 1.25"),
            Err("'M6 x 1.25' is no standard thread: M6 has the pitch 1 mm (coarse) or 0.75 mm (fine); mend it, or give pitch = \"1.25 mm\" instead of thread if it was measured so".to_owned())
        );
        for text in ["", "M", "Mx", "M6 x", "1/4 UNF", "M6 x NaN", "M1e9"] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}
