//! The notes can be followed: what a step uses is bought, sizes are the model's, pins the board's, limits have a source.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use toml::Table;
use yarn_scale_core::app::{CutOffs, LOW_DAYS, POOR_CABLE, days_left};
use yarn_scale_core::converter::SampleRate;
use yarn_scale_core::journal::SupplyKind;
use yarn_scale_core::units::Millivolts;
use yarn_scale_firmware::rp2040::pins::WRITE_SUPPLY;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("a workspace")
}

fn read(path: &str) -> String {
    fs::read_to_string(root().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
}

fn note(name: &str) -> String {
    read(&format!("hardware-notes/{name}"))
}

/// What is bought, without the chapter that weighs load cells against each other.
fn bill() -> String {
    let text = note("bill-of-materials.md");
    text.split("## Which load cell").next().expect("a beginning").to_owned()
}

fn sizes() -> Table {
    note("model/sizes.toml").parse().expect("a table")
}

fn size(sizes: &Table, key: &str) -> f64 {
    let mut keys = key.split('.');
    let first = &sizes[keys.next().expect("a table's name")];
    let value = keys.fold(first, |value, key| &value[key]);
    value.as_float().expect("a number")
}

/// Rows of all tables of a note, without their heads.
fn rows(text: &str) -> Vec<Vec<String>> {
    let lines: Vec<&str> = text.lines().collect();
    let heads: BTreeSet<usize> = (1..lines.len())
        .filter(|&line| lines[line].starts_with("|--"))
        .flat_map(|line| [line - 1, line])
        .collect();
    let rows = lines
        .iter()
        .enumerate()
        .filter(|(line, text)| text.starts_with("| ") && !heads.contains(line));
    rows.map(|(_, text)| {
        text.trim_matches('|')
            .split('|')
            .map(|cell| cell.trim().to_owned())
            .collect()
    })
    .collect()
}

/// What stands in *italics* in a note.
fn italics(text: &str) -> Vec<String> {
    let plain = text.replace("**", "");
    plain
        .split('*')
        .skip(1)
        .step_by(2)
        .map(|part| part.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

#[test]
fn every_part_of_a_step_is_bought() {
    let bill: Vec<String> = rows(&bill()).iter().map(|row| row[0].clone()).collect();
    let assembly = note("assembly.md");
    let steps = italics(&assembly);
    assert!(steps.len() > 25, "{steps:?}");
    let bought = |part: &str| {
        let singular = part.strip_suffix('s').unwrap_or(part);
        bill.iter()
            .any(|row| row.starts_with(part) || row.starts_with(singular))
    };
    for part in steps.iter().filter(|part| *part != "italics") {
        assert!(bought(part), "{part} is used and not in the bill of materials");
    }
    // The other way round: nothing is bought that no step uses. Of the choices to weigh with, the notes on calibration speak.
    let used = (assembly + &note("wiring.md") + &note("calibration.md")).to_lowercase();
    for row in &bill {
        let name = row.split(" with ").next().expect("a name");
        let name = name.split(',').next().expect("a name").to_lowercase();
        let choice = name == "control skein" || name == "usb supply";
        assert!(
            choice || used.contains(&name) || used.contains(name.trim_end_matches('s')),
            "{row} is bought and not used"
        );
    }
}

/// Sequences such as "180 × 180 × 6" in a text, as numbers; a screw's "M5 × 16" stands as 0, 16 behind its thread.
fn products(text: &str) -> BTreeSet<String> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let clean = |word: &str| word.trim_matches(|sign: char| !sign.is_ascii_alphanumeric()).to_owned();
    let number = |word: &str| {
        let word = clean(word);
        word.trim_start_matches('M').parse::<f64>().ok().map(|_| word)
    };
    let mut found = BTreeSet::new();
    let mut at = 0;
    while at + 2 < words.len() {
        let Some(first) = number(words[at]).filter(|_| words[at + 1] == "×") else {
            at += 1;
            continue;
        };
        let mut parts = vec![first];
        while words.get(at + 1) == Some(&"×") {
            let Some(next) = words.get(at + 2).and_then(|word| number(word)) else {
                break;
            };
            parts.push(next);
            at += 2;
        }
        if parts.len() > 1 {
            found.insert(parts.join(" × "));
        }
        at += 1;
    }
    found
}

#[test]
fn sizes_in_the_text_are_the_models() {
    let sizes = sizes();
    let of = |keys: &[&str]| {
        let numbers = keys.iter().map(|key| size(&sizes, key).to_string());
        numbers.collect::<Vec<_>>().join(" × ")
    };
    let screw = |thread: &str, length: &str| format!("M{} × {}", size(&sizes, thread), size(&sizes, length));
    let mut allowed: BTreeSet<String> = [
        of(&["base.side", "base.side", "base.thickness"]),
        of(&["flat.width", "flat.thickness"]),
        of(&["cell.bar80.spacer_length", "flat.spacer_width"]),
        of(&["cell.small47.spacer_length", "flat.spacer_width"]),
        of(&["module.length", "module.width"]),
        of(&["case.key_board_width", "case.key_board_height"]),
        of(&[
            "supply.batteries.length",
            "supply.batteries.width",
            "supply.batteries.height",
        ]),
        of(&["supply.lithium.length", "supply.lithium.width", "supply.lithium.height"]),
        of(&["supply.lithium.charger_length", "supply.lithium.charger_width"]),
        of(&["case.key_diameter", "case.key_diameter"]),
    ]
    .into();
    for cell in ["bar80", "bar75-narrow", "small47"] {
        let key = |name: &str| format!("cell.{cell}.{name}");
        allowed.insert(screw(&key("thread_fixed"), &key("screw_fixed")));
        allowed.insert(screw(&key("thread_free"), &key("screw_pan")));
        allowed.insert(screw("stop.screw", &key("stop_screw")));
    }
    allowed.insert(format!("M4 × {}", size(&sizes, "stop.corner_screw")));
    // Screws that bear nothing and that the model draws by hand or not at all.
    allowed.extend(["M4 × 20", "M3 × 8", "M3 × 10", "M2 × 5", "3 × 16"].map(str::to_owned));
    // The panel's pixels.
    allowed.insert("128 × 64".to_owned());
    let mut count = 0;
    for product in products(&(note("assembly.md") + &bill())) {
        assert!(allowed.contains(&product), "{product}; the model has {allowed:?}");
        count += 1;
    }
    assert!(count > 20, "{count}");

    // Drills of the steps and single sizes, as sentences of the text.
    let thread = size(&sizes, "cell.bar80.thread_fixed");
    let assembly = note("assembly.md");
    let drills = [thread + 0.5, size(&sizes, "base.through"), 2.5];
    for drill in assembly.split('Ø').skip(1) {
        let end = drill
            .find(|sign: char| !sign.is_ascii_digit() && sign != '.')
            .unwrap_or(drill.len());
        let number: f64 = drill[..end].trim_end_matches('.').parse().expect("a diameter");
        assert!(drills.contains(&number), "Ø{number}");
    }
    let clamp = size(&sizes, "flat.fixing") - size(&sizes, "cell.bar80.length") / 2.0;
    let bite = size(&sizes, "cell.bar80.screw_fixed")
        - size(&sizes, "flat.thickness")
        - size(&sizes, "cell.bar80.spacer_fixed");
    for words in [
        format!("three pieces of {} from", size(&sizes, "flat.length")),
        format!("clamp it {clamp} from the load cell's end"),
        format!("go into the load cell by {bite}:"),
        format!(
            "{} of air. Nothing else may touch the pan: {} of air",
            size(&sizes, "stop.corner_gap"),
            size(&sizes, "pan.air")
        ),
        format!("about {} at capacity", size(&sizes, "cell.bar80.deflection")),
        format!("board, {} apart", size(&sizes, "case.key_apart")),
        format!("stands {} in front of the base", size(&sizes, "case.gap")),
    ] {
        let text = assembly.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(&words), "{words}");
    }
}

#[test]
fn the_template_is_drawn_at_its_size() {
    let sizes = sizes();
    let cells = sizes["cell"].as_table().expect("cells");
    assert!(cells.len() >= 4);
    for (name, cell) in cells {
        let drawing = note(&format!("model/out/template-{name}.svg"));
        // A4 in millimetres, a unit of the drawing being one.
        assert!(drawing.contains("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
        // The ruler: a line of 100 units, and what is said of it.
        assert!(drawing.contains("d=\"M55 255L155 255\"") && drawing.contains("This line is 100 mm long"));
        // Both holes of the fixed end, where the sizes say.
        let of = |key: &str| cell[key].as_float().expect("a number");
        let first = -of("length") / 2.0 + of("hole_end");
        for (x, y) in [
            (first, -of("hole_across") / 2.0),
            (first + of("hole_pitch"), of("hole_across") / 2.0),
        ] {
            let two = |value: f64| {
                let text = format!("{value:.2}");
                text.trim_end_matches('0').trim_end_matches('.').to_owned()
            };
            let hole = format!(
                "cx=\"{}\" cy=\"{}\" r=\"{:.3}\"",
                two(105.0 + x),
                two(297.0 - 168.0 - y),
                (of("thread_fixed") + 0.5) / 2.0
            );
            assert!(drawing.contains(&hole), "{name}: {hole}");
        }
    }
}

#[test]
fn pins_in_the_text_are_the_boards() {
    // Raspberry Pi Pico data sheet, pinout.
    let pins = [("VBUS", 40), ("VSYS", 39), ("GND", 38), ("3V3(OUT)", 36)];
    let wiring = note("wiring.md");
    let mut count = 0;
    for (name, pin) in pins {
        for rest in wiring.split(&format!("{name} (")).skip(1) {
            if let Ok(number) = rest.split(')').next().expect("a bracket").parse::<u32>() {
                assert_eq!(number, pin, "{name}");
                count += 1;
            }
        }
    }
    assert!(count >= 5, "{count}");
    assert!(note("assembly.md").contains("Pin 20 (GPIO 15) stays free"));
}

#[test]
fn every_limit_has_a_source() {
    let bench = note("bench-checks.md");
    let mut count = 0;
    for row in rows(&bench) {
        // The last cell is for the pen, the one before says whence the limit is.
        let source = &row[row.len() - 2];
        assert!(source.chars().count() > 5, "{row:?}");
        assert_eq!(row.last().map(String::as_str), Some(""), "{row:?}");
        count += 1;
    }
    assert!(count >= 20, "{count}");
}

#[test]
fn limits_of_the_supply_are_the_programs() {
    let power = note("power-budget.md");
    let volts = |millivolts: Millivolts| format!("{:?} V", f64::from(millivolts.0) / 1_000.0);
    for (name, kind) in [
        ("alkaline", SupplyKind::Alkaline),
        ("NiMH", SupplyKind::NickelMetalHydride),
        ("lithium", SupplyKind::Lithium),
        ("USB", SupplyKind::Usb),
    ] {
        let CutOffs { write, off } = CutOffs::of(kind);
        // Cells: the first voltage that lasts longer at an hour a day.
        let lasts = |&supply: &u16| days_left(kind, Millivolts(supply), 1, SampleRate::Ten);
        let sign = (0..5_000).find(|supply| lasts(supply).is_some_and(|days| days > LOW_DAYS));
        let sign = sign.map_or(POOR_CABLE, |supply| Millivolts((supply + 5) / 10 * 10));
        let row = format!("| {name} | {} | {} | {} |", volts(sign), volts(write), volts(off));
        assert!(power.contains(&row), "{row}");
    }
    assert!(power.contains(&format!("Below {}", volts(WRITE_SUPPLY))));
}

#[test]
fn a_reader_comes_to_the_end_of_the_readme() {
    let words = read("README.md").split_whitespace().count();
    assert!(words <= 1_300, "{words} words");
}
