//! The report: it says what the ledger says, fetches nothing, lets no name become markup, and has words for every chart.

use std::collections::BTreeSet;

use yarn_scale_core::journal::{Journal, Named, Record, RingName};
use yarn_scale_core::ledger::{Ledger, condense};
use yarn_scale_core::units::Stamp;
use yarn_scale_sim::computer::{Backup, report};
use yarn_scale_sim::device::flash::SimFlash;
use yarn_scale_tests::knitting::pair;

/// A scale on which so many pairs were knitted, the last one named.
fn backup(pairs: u16, name: &str) -> Backup {
    let mut flash = SimFlash::blank(1 << 20);
    let mut journal = Journal::open(&mut flash, |_| {}).expect("a blank chip");
    let mut ledger = Ledger::default();
    for number in 1..=pairs {
        for record in pair(number, journal.next()) {
            let entry = journal.append(&mut flash, Stamp(number.into()), record).expect("room");
            ledger.apply(&entry).expect("a sound story");
        }
        journal
            .append(&mut flash, Stamp(number.into()), condense(&ledger))
            .expect("room");
    }
    let named = Record::Named {
        what: Named::Pair(pairs),
        name: name.try_into().expect("a short name"),
    };
    journal.append(&mut flash, Stamp(900), named).expect("room");
    Backup::from_image(flash.content().to_vec()).expect("a journal")
}

/// What stands in every attribute of this name.
fn attributes<'a>(page: &'a str, name: &str) -> Vec<&'a str> {
    let begin = format!(" {name}=\"");
    let parts = page.split(begin.as_str()).skip(1);
    parts.map(|part| part.split('"').next().unwrap_or_default()).collect()
}

#[test]
fn each_section_stands_there_as_the_ledger_has_it() {
    let page = report(&backup(3, "Sample"), Some(3), false).expect("a page");
    // What the invented sock takes, see the builder: the second mark of a yarn is amended like the first, so that the sections
    // between are whole; 1.96 times the root sum of squares of 31.5 mg twice is 87.3 mg. Of yarn A, 100 g, some air's moisture
    // comes on top; the masses themselves are exact.
    for mass in ["4.10", "6.90", "12.30", "14.20"] {
        assert!(page.contains(&format!(">{mass} \u{B1} ")), "{mass} in {page}");
    }
    assert!(page.contains("<h2>Pair 3: <bdi>Sample</bdi></h2>"));
    assert!(!page.contains("Pair 2"), "one pair was asked for");
}

#[test]
fn few_pairs_get_a_quarter_over_and_more_an_interval() {
    let few = report(&backup(2, "Sample"), None, false).expect("a page");
    assert!(few.contains(" g (25 %)<") && few.contains("by two pairs, reserve"));
    let more = report(&backup(3, "Sample"), None, false).expect("a page");
    assert!(more.contains("as before, 3 pairs") && !more.contains(" g (25 %)<"));
}

/// Before anything is marked nothing passes for an earlier pair's.
#[test]
fn without_earlier_pairs_the_page_says_estimated() {
    let journal = backup(1, "Sample");
    let of_marks = journal.entries.iter().filter(|(ring, _)| *ring == RingName::Marks);
    // The pair is begun and its three yarns are weighed in.
    let entries = of_marks.take(4).cloned().collect();
    let page = report(&Backup { entries, ..journal }, None, false).expect("a page");
    assert!(page.contains("<td>estimated, reserve "), "{page}");
    assert!(!page.contains("as before"), "{page}");
}

#[test]
fn a_name_is_never_markup() {
    for name in ["<script>alert(1)", "\"onload=x", "</title><b>&lt;", "'\u{202E}\u{7}"] {
        let page = report(&backup(1, name), None, false).expect("a page");
        let plain = report(&backup(1, "plain"), None, false).expect("a page");
        let tags = |page: &str| page.matches('<').count();
        assert_eq!(tags(&page), tags(&plain), "{name:?}");
        assert_eq!(page.matches('"').count(), plain.matches('"').count(), "{name:?}");
        assert!(!page.chars().any(|sign| sign.is_control() && sign != '\n'), "{name:?}");
    }
}

#[test]
fn nothing_is_fetched_and_every_chart_has_words() {
    let page = report(&backup(4, "Sample"), None, true).expect("a page");
    for fetched in ["http:", "https:", "src=", "<link", "@import", "<script", "url(http"] {
        assert!(!page.contains(fetched), "{fetched}");
    }
    assert!(page.contains("Invented demo"));
    let charts = page.matches("<svg viewBox").count();
    assert_eq!(charts, 8, "two for each pair");
    // And one that holds the pattern of sock 2 for all of them.
    assert_eq!(page.matches("</svg>").count(), charts + 1);
    let ids = attributes(&page, "id");
    let unique: BTreeSet<&str> = ids.iter().copied().collect();
    assert_eq!(unique.len(), ids.len(), "an id is there twice");
    let labelled = attributes(&page, "aria-labelledby");
    assert_eq!(labelled.len(), charts);
    for label in labelled.iter().flat_map(|labels| labels.split(' ')) {
        assert!(unique.contains(label), "{label} leads nowhere");
    }
    assert_eq!(page.matches("<table>").count(), page.matches("<caption>").count());
    assert_eq!(page.matches("<th ").count(), page.matches("<th scope=").count());
    // Where no names stand above the axis, there is no empty band in their place.
    assert_eq!(page.matches("<svg viewBox=\"0 18 720 282\"").count(), charts / 2);
    // Colours of the plotting library would not follow light and dark.
    assert!(!page.contains("\"#0000"), "a colour of its own");
}

#[test]
fn an_unknown_pair_and_an_empty_journal_are_told() {
    assert!(report(&backup(1, "Sample"), Some(9), false).is_err());
    let nothing = Backup {
        device: None,
        entries: Vec::new(),
        unreadable: Vec::new(),
        dead_sectors: Vec::new(),
    };
    assert!(report(&nothing, None, false).is_err());
}

/// Relative luminance of `#rrggbb`: WCAG 2.2, definition of "relative luminance".
fn luminance(color: &str) -> f64 {
    let channel = |place: usize| {
        let value = u8::from_str_radix(&color[place..place + 2], 16).expect("two digits");
        let value = f64::from(value) / 255.0;
        if value <= 0.040_45 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

/// WCAG 2.2, definition of "contrast ratio"; criteria 1.4.3 (text, 4.5) and 1.4.11 (graphics, 3).
#[test]
fn contrasts_are_enough_in_light_in_dark_and_on_paper() {
    let page = report(&backup(1, "Sample"), None, false).expect("a page");
    let palettes: Vec<&str> = page
        .split(":root {")
        .skip(1)
        .map(|rest| rest.split('}').next().expect("an end"))
        .collect();
    assert_eq!(palettes.len(), 3);
    for palette in palettes {
        let color = |name: &str| {
            let begin = format!("--{name}: ");
            let value = palette.split(begin.as_str()).nth(1).expect("the color is there");
            luminance(&value[..7])
        };
        let contrast = |one: &str, other: &str| {
            let (one, other) = (color(one), color(other));
            (one.max(other) + 0.05) / (one.min(other) + 0.05)
        };
        for text in ["ink", "quiet", "link"] {
            let found = contrast(text, "paper");
            assert!(found >= 4.5, "{text} {found:.2}");
        }
        // Whiskers and outlines over the bars.
        let found = contrast("ink", "yarn");
        assert!(found >= 3.0, "ink on bars {found:.2}");
    }
}
