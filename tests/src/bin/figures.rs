//! Counts what was tried so that nothing is lost, and prints lines `name value`. Fails at the first thing that was lost,
//! believed wrongly or did not go on.

use std::process::ExitCode;

use yarn_scale_tests::damage::{Harmed, twelve_pairs};
use yarn_scale_tests::durability::{
    CAMPAIGNS, CutCounts, SCENES, SeveralPairs, Unharmed, cut_restores, cut_scene, endurance_years, keep_losing_power,
};
use yarn_scale_tests::hostile::{SHORT_NOISE, TARGETS, smoke};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let long = match arguments.as_slice() {
        [] => false,
        [only] if only == "--long" => true,
        _ => {
            eprintln!("usage: figures [--long]");
            return ExitCode::from(2);
        }
    };
    let wrong = cuts(long) + restores(long) + flips(long) + files(long);
    faults();
    capacity();
    endurance(long);
    hostile(long);
    if wrong == 0 {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}

/// Counts what went well in `counts` and says what did not.
fn take<T>(tried: Result<T, String>, failed: &mut u32, counts: impl FnOnce(T)) {
    match tried {
        Ok(tried) => counts(tried),
        Err(what) => {
            *failed += 1;
            eprintln!("figures: {what}");
        }
    }
}

/// Gives how often something was lost, believed wrongly or did not go on.
fn cuts(long: bool) -> u32 {
    let (mut journal, mut device, mut at_random, mut failed) = (CutCounts::default(), CutCounts::default(), 0, 0);
    for campaign in CAMPAIGNS {
        take(campaign.cut(long), &mut failed, |counts| journal.add(&counts));
    }
    for seed in 0..if long { 20 } else { 2 } {
        take(keep_losing_power(seed), &mut failed, |cuts| at_random += cuts);
    }
    for scene in SCENES {
        take(cut_scene(&scene, long), &mut failed, |counts| device.add(&counts));
    }
    println!("cut_points {}", journal.all() + at_random + device.all());
    println!("cut_points_in_the_journal {}", journal.all());
    println!("cut_points_at_random {at_random}");
    println!("cut_points_in_the_device_in_use {}", device.all());
    println!(
        "cut_points_while_recovering_from_a_cut {}",
        journal.second_cuts + device.second_cuts
    );
    println!("erases_cut {}", journal.erases + device.erases);
    println!("stories_in_which_something_was_lost {failed}");
    failed
}

/// Restores that were cut. Gives how often neither the old nor the new journal stood.
fn restores(long: bool) -> u32 {
    let mut failed = 0;
    take(cut_restores(if long { 1 } else { 31 }), &mut failed, |counts| {
        println!("restore_cuts {}", counts.cuts);
        println!("restore_cuts_new_journal {}", counts.new);
        println!("restore_cuts_while_recovering_from_a_cut {}", counts.second_cuts);
    });
    println!("restores_that_left_neither_journal {failed}");
    failed
}

/// Files on a computer: what is damaged in an image of twelve pairs, or in its backup, and whether it is told. Gives how often it is not.
fn files(long: bool) -> u32 {
    let (image, backup) = (Harmed::image(twelve_pairs()), Harmed::backup(twelve_pairs()));
    let counts = if long {
        [
            image.flip_all(),
            backup.flip_all(),
            backup.cut_drawn(usize::MAX, 0),
            backup.swap_all(),
        ]
    } else {
        [
            image.flip_drawn(2_000, 1),
            backup.flip_drawn(2_000, 2),
            backup.cut_drawn(500, 3),
            backup.swap_drawn(500, 4),
        ]
    };
    let mut silent = 0;
    for (name, counts) in ["image_flips", "backup_flips", "backup_cuts", "backup_frames_swapped"]
        .into_iter()
        .zip(counts)
    {
        println!("{name} {}", counts.tried);
        println!("{name}_told {}", counts.told);
        println!("{name}_silent {}", counts.silent.len());
        silent += u32::try_from(counts.silent.len()).unwrap_or(u32::MAX);
    }
    silent
}

/// Gives how often a flip was believed, or took something without a word.
fn flips(long: bool) -> u32 {
    let unharmed = Unharmed::closed_pair();
    let (written, blank) = unharmed.written_and_blank();
    let blank: Vec<usize> = blank.into_iter().step_by(if long { 1 } else { 29 }).collect();
    let (mut tried, mut told, mut in_doubt, mut failed) = (0, 0, 0, 0);
    for (bytes, bits) in [(written, 0..8), (blank, if long { 0..8 } else { 0..1 })] {
        for byte in bytes {
            take(unharmed.flip_all(&[byte], bits.clone()), &mut failed, |counts| {
                tried += counts.tried;
                told += counts.records_lost;
                in_doubt += counts.in_doubt;
            });
        }
    }
    println!("flips {tried}");
    println!("flips_that_took_a_record_and_were_told {told}");
    println!("flips_that_put_marks_in_doubt {in_doubt}");
    println!("bytes_whose_flips_were_believed_or_not_told {failed}");
    failed
}

fn faults() {
    let rows = include_str!("../../faults.md")
        .lines()
        .filter(|line| line.starts_with("| "));
    // The head of the table is no fault.
    println!("faults_in_the_table {}", rows.count().saturating_sub(1));
}

/// With three pairs on the needles at any time, an evening on each in turn.
fn capacity() {
    let (full, warned, _) = SeveralPairs::new(false).until_full(3);
    println!("capacity_pairs {full}");
    println!("capacity_warning_at_pair {warned}");
    let (full, _, _) = SeveralPairs::new(true).until_full(3);
    println!("capacity_pairs_with_names {full}");
}

fn endurance(long: bool) {
    match endurance_years(if long { 1_400 } else { 400 }) {
        Ok(years) => println!("endurance_years_at_20_marks_and_200_visits_a_day {years:.0}"),
        Err(fault) => eprintln!("figures: {fault:?}"),
    }
}

fn hostile(long: bool) {
    let mut inputs = 0;
    for target in TARGETS {
        let noise = SHORT_NOISE
            .iter()
            .find(|(name, _)| *name == target.0)
            .map_or(0, |&(_, noise)| noise);
        inputs += smoke(target, if long { 10 * noise } else { noise }, 1);
    }
    println!("hostile_inputs {inputs}");
}
