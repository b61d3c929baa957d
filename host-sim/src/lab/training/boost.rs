//! Gradient boosting of small complete trees on features of one byte each (Friedman, Annals of Statistics 29, 2001, with Newton leaves).
//!
//! Every level of a tree asks each of its nodes the question that lowers the logistic loss most; the leaves are quantised as the
//! device holds them before the next tree is grown, so that later trees correct for that too.

use std::fmt::Write as _;
use std::thread;

use yarn_scale_core::signal::{COUNT, DEPTH, Feature, Tree};

use super::labels::Rows;

/// Grows `count` trees.
pub(super) fn grow(rows: &Rows, count: usize, rate: f32) -> Vec<Tree> {
    let n = rows.good.len();
    let columns: Vec<Vec<u8>> = (0..COUNT)
        .map(|c| rows.features.iter().map(|f| (i16::from(f[c]) + 128) as u8).collect())
        .collect();
    let mut score = vec![0.0_f32; n];
    let mut slopes = vec![(0.0_f32, 0.0_f32); n];
    let mut node = vec![0_u8; n];
    (0..count)
        .map(|_| {
            for i in 0..n {
                let p = 1.0 / (1.0 + (-score[i]).exp());
                let target = if rows.good[i] { 1.0 } else { 0.0 };
                slopes[i] = (
                    rows.weight[i] * (target - p),
                    (rows.weight[i] * p * (1.0 - p)).max(1e-6),
                );
                node[i] = 0;
            }
            let mut tree = Tree {
                feature: [0; NODES],
                threshold: [127; NODES],
                leaf: [0; LEAVES],
            };
            for level in 0..DEPTH {
                let first = (1 << level) - 1;
                for (q, split) in best_splits(&columns, &slopes, &node, 1 << level)
                    .into_iter()
                    .enumerate()
                {
                    tree.feature[first + q] = split.feature;
                    tree.threshold[first + q] = split.threshold;
                }
                for (node, features) in node.iter_mut().zip(&rows.features) {
                    let q = first + usize::from(*node);
                    let above = features[usize::from(tree.feature[q])] > tree.threshold[q];
                    *node = 2 * *node + u8::from(above);
                }
            }
            let mut sums = [(0.0_f32, 0.0_f32); LEAVES];
            for (slope, at) in slopes.iter().zip(&node) {
                let sum = &mut sums[usize::from(*at)];
                *sum = (sum.0 + slope.0, sum.1 + slope.1);
            }
            for (leaf, (g, h)) in tree.leaf.iter_mut().zip(sums) {
                *leaf = (rate * g / (h + SHRINK) * STEPS).round().clamp(-127.0, 127.0) as i8;
            }
            for (score, at) in score.iter_mut().zip(&node) {
                *score += f32::from(tree.leaf[usize::from(*at)]) / STEPS;
            }
            tree
        })
        .collect()
}

/// The source text of a table of trees.
pub(super) fn source(trees: &[Tree], how: &str) -> String {
    let [upper, lower] = [Feature::LAYOUT >> 16, Feature::LAYOUT & 0xFFFF];
    let mut text = format!(
        "//! The trees of the steadiness judge.\n//!\n//! Grown by `{how}`; not to be edited by hand.\n\nuse crate::signal::steadiness::Tree;\n\n\
         /// What the features were when these were grown.\npub(super) const LAYOUT: u32 = 0x{upper:04X}_{lower:04X};\n\n\
         #[rustfmt::skip]\npub(super) const TREES: [Tree; {}] = [\n",
        trees.len()
    );
    for tree in trees {
        let _ = writeln!(
            text,
            "    Tree {{ feature: {:?}, threshold: {:?}, leaf: {:?} }},",
            tree.feature, tree.threshold, tree.leaf
        );
    }
    text.push_str("];\n");
    text
}

#[derive(Clone, Copy)]
struct Split {
    gain: f32,
    feature: u8,
    threshold: i8,
}

fn best_splits(columns: &[Vec<u8>], slopes: &[(f32, f32)], node: &[u8], nodes: usize) -> Vec<Split> {
    let none = Split {
        gain: 0.0,
        feature: 0,
        threshold: 127,
    };
    let of = |c: usize| {
        let mut sums = vec![[(0.0_f32, 0.0_f32); 256]; nodes];
        for ((value, slope), at) in columns[c].iter().zip(slopes).zip(node) {
            let sum = &mut sums[usize::from(*at)][usize::from(*value)];
            *sum = (sum.0 + slope.0, sum.1 + slope.1);
        }
        sums.iter().map(|sums| best_split(sums, c)).collect::<Vec<_>>()
    };
    let halves = thread::scope(|scope| {
        let threads: Vec<_> = (0..2)
            .map(|half| {
                scope.spawn(move || {
                    let mut best = vec![none; nodes];
                    for c in (half..COUNT).step_by(2) {
                        for (best, split) in best.iter_mut().zip(of(c)) {
                            if split.gain > best.gain {
                                *best = split;
                            }
                        }
                    }
                    best
                })
            })
            .collect();
        threads
            .into_iter()
            .filter_map(|thread| thread.join().ok())
            .collect::<Vec<_>>()
    });
    let mut best = vec![none; nodes];
    for half in halves {
        for (best, split) in best.iter_mut().zip(half) {
            if split.gain > best.gain {
                *best = split;
            }
        }
    }
    best
}

fn best_split(sums: &[(f32, f32); 256], feature: usize) -> Split {
    let all = sums.iter().fold((0.0, 0.0), |a, b| (a.0 + b.0, a.1 + b.1));
    let worth = |g: f32, h: f32| g * g / (h + SHRINK);
    let mut below = (0.0, 0.0);
    let mut best = Split {
        gain: 0.0,
        feature: feature as u8,
        threshold: 127,
    };
    for (value, sum) in sums.iter().enumerate().take(255) {
        below = (below.0 + sum.0, below.1 + sum.1);
        if below.1 < LEAST || all.1 - below.1 < LEAST {
            continue;
        }
        let gain = worth(below.0, below.1) + worth(all.0 - below.0, all.1 - below.1) - worth(all.0, all.1);
        if gain > best.gain {
            best.gain = gain;
            best.threshold = (value as i16 - 128) as i8;
        }
    }
    best
}

const NODES: usize = (1 << DEPTH) - 1;
const LEAVES: usize = 1 << DEPTH;
/// Leaf values are steps of 1/64.
const STEPS: f32 = 64.0;
/// Weight of the assumption that a leaf says nothing.
const SHRINK: f32 = 5.0;
/// Least weight of a leaf.
const LEAST: f32 = 20.0;
