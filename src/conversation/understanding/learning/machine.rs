//! Learns a linear model: for each column a weight for every term, so that a message's weights add up to more than
//! nothing where the column is meant, and to less where it is not.
//!
//! # Source
//! One machine against the rest with squared hinge loss, solved by dual coordinate descent (Hsieh, Chang, Lin, Keerthi,
//! Sundararajan, "A Dual Coordinate Descent Method for Large-scale Linear SVM", 2008). Terms are weighed by how rare
//! they are (Spärck Jones, "A statistical interpretation of term specificity", 1972). Sums, products and roots of
//! floats are the same on every machine, logarithms come from `libm`, and the order is fixed: the same messages
//! give the same weights, bit for bit.

use std::collections::BTreeMap;

use super::table::Row;
use crate::conversation::understanding::words::terms::{Key, Keys};

/// How dear a message on the wrong side is.
const DEAR: f32 = 1.0;
/// No more rounds than this over all messages.
const ROUNDS: usize = 12;
/// A round that mends no message by more than this was the last.
const SETTLED: f32 = 0.1;
/// Terms of fewer messages than this are not learned.
const FEWEST: u32 = 2;
/// What a weight of one, and a margin of one, is in whole numbers.
const ONE: f64 = 1000.0;
/// Weights smaller than this, in those numbers, are left out.
const SLIGHTEST: i16 = 70;
/// How finely rarity is kept.
const RARE: f64 = 16.0;

/// A message to learn by.
#[derive(Clone, Debug)]
pub(in super::super) struct Lesson {
    /// Its terms, in two blocks that count alike.
    pub(in super::super) blocks: [Keys; 2],
    /// The columns that are meant.
    pub(in super::super) is: Vec<usize>,
    /// The columns it says nothing about.
    pub(in super::super) may_be: Vec<usize>,
}

/// A message as numbers: places of terms, and their values.
type Sparse = Vec<(u32, f32)>;

/// Learns `columns` columns; `names` tells a term's name.
pub(in super::super) fn learn(
    lessons: &[Lesson],
    columns: usize,
    names: &BTreeMap<Key, String>,
) -> (Vec<i32>, Vec<Row>) {
    let known = known_terms(lessons);
    let inputs: Vec<Sparse> = lessons.iter().map(|lesson| sparse(lesson, &known)).collect();
    let order = shuffled(lessons.len());
    let mut rows: Vec<Row> = known
        .iter()
        .map(|(key, (_, rare))| Row {
            name: names.get(key).cloned().unwrap_or_default(),
            rare: *rare,
            cells: Vec::new(),
        })
        .collect();
    let mut bias = Vec::with_capacity(columns);
    for column in 0..columns {
        let sides: Vec<(usize, f32)> = order
            .iter()
            .filter_map(|index| lessons.get(*index).map(|lesson| (*index, lesson)))
            .filter(|(_, lesson)| !lesson.may_be.contains(&column))
            .map(|(index, lesson)| (index, if lesson.is.contains(&column) { 1.0 } else { -1.0 }))
            .collect();
        let (weights, start) = separate(&inputs, sides, known.len());
        bias.push(whole(start).into());
        let Ok(column) = u8::try_from(column) else { break };
        for (row, weight) in rows.iter_mut().zip(weights) {
            let weight = whole(weight);
            if weight.abs() >= SLIGHTEST {
                row.cells.push((column, weight));
            }
        }
    }
    // A word as it was typed is kept though it tells nothing: it is no slip of another.
    rows.retain(|row| !row.cells.is_empty() || row.name.starts_with("r:"));
    rows.sort_by(|a, b| a.name.cmp(&b.name));
    (bias, rows)
}

/// The terms that are learned: their places, and how rare each is.
fn known_terms(lessons: &[Lesson]) -> BTreeMap<Key, (u32, u16)> {
    let mut messages: BTreeMap<Key, u32> = BTreeMap::new();
    for key in lessons.iter().flat_map(|lesson| lesson.blocks.iter().flatten()) {
        *messages.entry(*key).or_default() += 1;
    }
    let all = u32::try_from(lessons.len()).map_or(f64::MAX, f64::from);
    let kept = messages.into_iter().filter(|(_, times)| *times >= FEWEST);
    (0..)
        .zip(kept)
        .map(|(place, (key, times))| {
            let rare = libm::log((all + 1.0) / (f64::from(times) + 1.0)) + 1.0;
            (key, (place, u16::try_from(round(rare * RARE)).unwrap_or(u16::MAX)))
        })
        .collect()
}

/// A message's terms and their values: rarity, with each block brought to the same length.
fn sparse(lesson: &Lesson, known: &BTreeMap<Key, (u32, u16)>) -> Sparse {
    let mut input = Sparse::new();
    for keys in &lesson.blocks {
        let there: Vec<(u32, u16)> = keys.iter().filter_map(|key| known.get(key).copied()).collect();
        let squares: f32 = there.iter().map(|(_, rare)| f32::from(*rare) * f32::from(*rare)).sum();
        let length = squares.sqrt().max(1.0);
        input.extend(there.iter().map(|(place, rare)| (*place, f32::from(*rare) / length)));
    }
    input.sort_by_key(|(place, _)| *place);
    input
}

/// The weights, and what every message starts with, that part the messages of one side from those of the other.
fn separate(inputs: &[Sparse], mut sides: Vec<(usize, f32)>, terms: usize) -> (Vec<f32>, f32) {
    let mut weights = vec![0.0; terms];
    let mut start = 0.0;
    let mut pulls = vec![0.0; inputs.len()];
    if !sides.iter().any(|(_, side)| *side > 0.0) {
        return (weights, -1.0);
    }
    for round in 0..ROUNDS {
        let mut most = 0.0_f32;
        sides.retain(|(index, side)| {
            let (Some(input), Some(pull)) = (inputs.get(*index), pulls.get_mut(*index)) else { return false };
            let score = input.iter().map(|(place, value)| at(&weights, *place) * value).sum::<f32>() + start;
            let amiss = side * score - 1.0 + *pull * 0.5 / DEAR;
            // What lies far on its own side and never pulled can be left out from now on.
            if *pull <= 0.0 && amiss > 0.5 && round > 0 {
                return false;
            }
            let wanted = if *pull <= 0.0 { amiss.min(0.0) } else { amiss };
            if wanted.abs() > 1e-4 {
                most = most.max(wanted.abs());
                let size: f32 = input.iter().map(|(_, value)| value * value).sum::<f32>() + 1.0 + 0.5 / DEAR;
                let before = *pull;
                *pull = (before - amiss / size).max(0.0);
                let step = (*pull - before) * side;
                for (place, value) in input {
                    if let Some(weight) =
                        usize::try_from(*place).ok().and_then(|place| weights.get_mut(place))
                    {
                        *weight += step * value;
                    }
                }
                start += step;
            }
            true
        });
        if most < SETTLED {
            break;
        }
    }
    (weights, start)
}

fn at(weights: &[f32], place: u32) -> f32 {
    usize::try_from(place).ok().and_then(|place| weights.get(place)).copied().unwrap_or_default()
}

/// The numbers below `many` in an order that looks like chance and is always the same.
fn shuffled(many: usize) -> Vec<usize> {
    let mut order: Vec<usize> = (0..many).collect();
    let mut state = 1_u64;
    for last in (1..many).rev() {
        // Knuth's numbers for a linear congruential generator, from memory.
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let span = u64::try_from(last + 1).unwrap_or(1);
        order.swap(last, usize::try_from((state >> 33) % span).unwrap_or_default());
    }
    order
}

fn whole(weight: f32) -> i16 {
    i16::try_from(round(f64::from(weight) * ONE)).unwrap_or(if weight > 0.0 { i16::MAX } else { i16::MIN })
}

/// The nearest whole number.
#[expect(clippy::as_conversions, clippy::cast_possible_truncation, reason = "bounded on the same line")]
pub(in super::super) fn round(number: f64) -> i32 {
    libm::round(number).clamp(-1e9, 1e9) as i32
}
