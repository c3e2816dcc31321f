//! The network against plain enumeration of every state of every condition, and what must hold for any findings.

use super::super::applied::Applied;
use super::super::likelihood::{Read, of_all};
use super::*;
use proptest::prelude::*;

/// Numbers without a generator: splitmix64.
struct Draws(u64);

impl Draws {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((mixed ^ (mixed >> 31)) % count as u64) as usize
    }
}

fn worst(shares: &[&[f64]], state: usize) -> f64 {
    let at_most = |state: usize| shares.iter().map(|one| one[..=state].iter().sum::<f64>()).product::<f64>();
    at_most(state) - if state > 0 { at_most(state - 1) } else { 0.0 }
}

/// P(reads | set) by summing over every combination of states of the conditions that are read, one by one.
fn enumerated(applied: &Applied, set: &[usize], reads: &[Read]) -> f64 {
    let mut parts: Vec<usize> =
        reads.iter().flat_map(|read| applied.probes[read.0].reads.iter().map(|(part, _)| *part)).collect();
    parts.sort_unstable();
    parts.dedup();
    let mut states = vec![0; parts.len()];
    let mut sum = 0.0;
    loop {
        let mut weight = 1.0;
        for (&part, &state) in parts.iter().zip(&states) {
            let part = &applied.parts[part];
            let mut shares = vec![part.leak.as_slice()];
            shares.extend(set.iter().filter_map(|&cause| part.effects[cause].as_deref()));
            weight *= worst(&shares, state);
        }
        for &(probe, outcome) in reads {
            let probe = &applied.probes[probe];
            let mut shares = vec![probe.leak.as_slice()];
            for (part, by_state) in &probe.reads {
                shares.push(&by_state[states[parts.iter().position(|own| own == part).unwrap()]]);
            }
            weight *= worst(&shares, outcome);
        }
        sum += weight;
        let Some(at) = (0..parts.len()).find(|&at| states[at] + 1 < applied.parts[parts[at]].states.len())
        else {
            return sum;
        };
        states[at] += 1;
        states[..at].fill(0);
    }
}

#[test]
fn agrees_with_enumeration_of_all_conditions() {
    let mut draws = Draws(7);
    for kind in Actuator::ALL {
        let applied = Applied::of(Tables::built_in(), kind);
        for _ in 0..6 {
            let count = 1 + draws.below(3);
            let mut reads: Vec<Read> = Vec::new();
            while reads.len() < count {
                let probe = draws.below(applied.probes.len());
                if reads.iter().all(|read| read.0 != probe) {
                    reads.push((probe, draws.below(applied.probes[probe].outcomes.len())));
                }
            }
            let ours = of_all(&applied, &reads).unwrap();
            for _ in 0..6 {
                let at = draws.below(applied.sets.len());
                let plain = enumerated(&applied, &applied.sets[at], &reads);
                assert!((ours[at] - plain).abs() < 1e-12 * plain.max(1e-3), "{} {plain} {reads:?}", ours[at]);
            }
        }
    }
}

/// The same for many reads: those that share no condition apart, so that not all states run against all.
fn by_components(applied: &Applied, set: &[usize], reads: &[Read]) -> f64 {
    let parts = |read: &Read| applied.probes[read.0].reads.iter().map(|(part, _)| *part).collect::<Vec<_>>();
    let mut left = reads.to_vec();
    let mut product = 1.0;
    while let Some(first) = left.pop() {
        let mut group = vec![first];
        let mut known = parts(&first);
        while let Some(at) = left.iter().position(|read| parts(read).iter().any(|part| known.contains(part)))
        {
            let read = left.remove(at);
            known.extend(parts(&read));
            group.push(read);
        }
        product *= enumerated(applied, set, &group);
    }
    product
}

#[test]
fn agrees_the_ranking_with_enumeration() {
    let text = "hunting comes-and-goes -rattle -servo-silent sensor-ends=within sensor-sweep=jumps earth-drop=small \
        watch-unhooked=stops-short free-turn=stiff cable-slack=tight edge-open=over edge-closed=open";
    let ranking = built_in(Actuator::Servo, text);
    let applied = Applied::of(Tables::built_in(), Actuator::Servo);
    let mut reads: Vec<Read> = Vec::new();
    let mut weights = applied.prior.clone();
    for finding in findings(text) {
        match finding {
            Finding::Check { key, outcome } => {
                let probe = applied.probes.iter().position(|probe| probe.key == key).unwrap();
                let outcome = applied.probes[probe].outcomes.iter().position(|own| *own == outcome).unwrap();
                reads.push((probe, outcome));
            }
            Finding::Symptom { key, seen } => {
                let sign = applied.signs.iter().find(|sign| sign.key == key).unwrap();
                for (weight, set) in weights.iter_mut().zip(&applied.sets) {
                    let no = set.iter().fold(1.0 - sign.leak, |no, &cause| no * (1.0 - sign.shares[cause]));
                    *weight *= if seen { 1.0 - no } else { no };
                }
            }
        }
    }
    for (weight, set) in weights.iter_mut().zip(&applied.sets) {
        *weight *= by_components(&applied, set, &reads);
    }
    let sum: f64 = weights.iter().sum();
    assert!((ranking.nothing - weights[0] / sum).abs() < 1e-12);
    for (cause, &row) in applied.causes.iter().enumerate() {
        let holding = applied.sets.iter().zip(&weights).filter(|(set, _)| set.contains(&cause));
        let wanted = holding.map(|(_, weight)| weight).sum::<f64>() / sum;
        let ours = super::cause(&ranking, &Tables::built_in().causes[row].key).probability;
        assert!((ours - wanted).abs() < 1e-12, "{ours} {wanted}");
    }
}

/// Some symptoms, as text.
fn symptoms(applied: &Applied, draws: &mut Draws) -> Vec<String> {
    let mut words = Vec::new();
    for sign in &applied.signs {
        match draws.below(4) {
            0 => words.push(sign.key.clone()),
            1 => words.push(format!("-{}", sign.key)),
            _ => {}
        }
    }
    words
}

#[test]
fn agrees_a_finding_that_a_cause_makes_likelier_than_every_other_raises_it() {
    let mut draws = Draws(3);
    let mut tried = 0;
    for kind in Actuator::ALL {
        let applied = Applied::of(Tables::built_in(), kind);
        let words = symptoms(&applied, &mut draws).join(" ");
        let before = built_in(kind, &words);
        for (probe, row) in applied.probes.iter().enumerate() {
            for outcome in 0..row.outcomes.len() {
                let shares = of_all(&applied, &[(probe, outcome)]).unwrap();
                for (cause, &place) in applied.causes.iter().enumerate() {
                    let least = |holds: bool| {
                        let kept = applied
                            .sets
                            .iter()
                            .zip(&shares)
                            .filter(move |(set, _)| set.contains(&cause) == holds);
                        kept.map(|(_, share)| *share)
                    };
                    let with = least(true).fold(f64::INFINITY, f64::min);
                    if with <= least(false).fold(0.0, f64::max) {
                        continue;
                    }
                    tried += 1;
                    let after = built_in(kind, &format!("{words} {}={}", row.key, row.outcomes[outcome]));
                    let key = &Tables::built_in().causes[place].key;
                    let (was, is) =
                        (super::cause(&before, key).probability, super::cause(&after, key).probability);
                    assert!(is > was, "{kind:?} {key} {}={}: {was} {is}", row.key, row.outcomes[outcome]);
                }
            }
        }
    }
    assert!(tried >= 5, "only {tried} findings single out a cause");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn conserves_probability_for_any_findings(seed in any::<u64>()) {
        let mut draws = Draws(seed);
        let kind = Actuator::ALL[draws.below(3)];
        let applied = Applied::of(Tables::built_in(), kind);
        let mut words = symptoms(&applied, &mut draws);
        for probe in &applied.probes {
            if draws.below(3) == 0 {
                words.push(format!("{}={}", probe.key, probe.outcomes[draws.below(probe.outcomes.len())]));
            }
        }
        let ranking = built_in(kind, &words.join(" "));
        prop_assert!((0.0..=1.0).contains(&ranking.nothing));
        for pair in ranking.causes.windows(2) {
            prop_assert!(pair[0].probability >= pair[1].probability && pair[0].probability <= 1.0 + 1e-12);
        }
        for test in &ranking.next {
            let sum: f64 = test.outcomes.iter().map(|outcome| outcome.probability).sum();
            prop_assert!((sum - 1.0).abs() < 1e-9 && test.bits.is_finite() && test.bits >= 0.0);
        }
        prop_assert!(ranking.causes.iter().all(|cause| !cause.in_words.is_empty() && !cause.remedy.is_empty()));
    }
}
