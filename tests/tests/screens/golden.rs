//! Golden screens: every page and case in both languages, pixel by pixel.
//!
//! `tests/screens/PAGE/CASE.en.png` holds what was looked at and found good. `BLESS_SCREENS=1` writes the pictures anew;
//! then look at every one that has changed. It is refused where `CI` is set.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use yarn_scale_core::forecast::{Answer, Basis, Reserve, Source};
use yarn_scale_core::screen::{AnswerPage, Body};
use yarn_scale_sim::device::picture::{Picture, frame_of};
use yarn_scale_sim::lab::pages::{Case, LANGUAGES, SCALE, cases, first_look, page_of};

/// The pictures by their names below `tests/screens`.
fn drawn() -> Vec<(String, Picture)> {
    let mut drawn = Vec::new();
    for case in cases() {
        assert_eq!(case.page(), page_of(&case.view().body), "{}", case.name());
        for (language, ending) in LANGUAGES {
            let picture = Picture::from(&frame_of(&case.in_language(language)));
            drawn.push((format!("{}/{}.{ending}.png", case.page(), case.name()), picture));
        }
    }
    drawn
}

fn golden() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("screens")
}

fn failures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/screens")
}

/// Every picture below a folder, by name.
fn stored(folder: &Path) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    let pages = fs::read_dir(folder).into_iter().flatten().flatten();
    for page in pages.filter(|page| page.path().is_dir()) {
        let pictures = fs::read_dir(page.path()).into_iter().flatten().flatten();
        for picture in pictures {
            let page = page.file_name();
            names.insert(format!("{}/{}", page.display(), picture.file_name().display()));
        }
    }
    names
}

fn save(picture: &Picture, path: &Path) {
    fs::create_dir_all(path.parent().expect("a folder")).expect("a folder for the picture");
    picture.save(path).expect("the picture is written");
}

/// What was lit and is not, or the other way round.
fn changed(want: &Picture, got: &Picture) -> Picture {
    let mut changed = Picture::dark(got.width, got.height);
    for y in 0..got.height {
        for x in 0..got.width {
            changed.set(x, y, want.is_lit(x, y) != got.is_lit(x, y));
        }
    }
    changed
}

#[test]
fn every_screen_is_the_one_that_was_looked_at() {
    let bless = std::env::var_os("BLESS_SCREENS").is_some();
    assert!(
        !(bless && std::env::var_os("CI").is_some()),
        "screens are blessed by whoever looks at them, not by CI"
    );
    let drawn = drawn();
    let names: BTreeSet<String> = drawn.iter().map(|(name, _)| name.clone()).collect();
    assert_eq!(names.len(), drawn.len(), "two cases share a name");
    if bless {
        for name in stored(&golden()).difference(&names) {
            fs::remove_file(golden().join(name)).expect("a picture of no case is removed");
        }
        for (name, picture) in &drawn {
            save(&picture.enlarged(SCALE), &golden().join(name));
        }
    }
    let mut different = Vec::new();
    for (name, got) in &drawn {
        let want = Picture::load(&golden().join(name))
            .ok()
            .and_then(|large| large.reduced(SCALE));
        if want.as_ref() == Some(got) {
            continue;
        }
        different.push(name);
        let stem = failures().join(name);
        save(&got.enlarged(SCALE), &stem.with_extension("got.png"));
        if let Some(want) = want {
            save(&want.enlarged(SCALE), &stem.with_extension("want.png"));
            save(&changed(&want, got).enlarged(SCALE), &stem.with_extension("diff.png"));
        }
    }
    assert!(
        different.is_empty(),
        "{} screens differ; look at target/screens:\n{different:#?}",
        different.len()
    );
    assert_eq!(
        stored(&golden()),
        names,
        "a picture without a case, or a case without a picture"
    );
}

#[test]
fn the_picture_of_the_readme_shows_the_screens_as_they_are() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../hardware-notes/pictures/screens.png");
    let picture = first_look();
    if std::env::var_os("BLESS_SCREENS").is_some() {
        save(&picture, &path);
    }
    let stored = Picture::load(&path).expect("the picture is there");
    assert!(stored == picture, "BLESS_SCREENS=1 draws it anew");
}

#[test]
fn every_page_has_cases() {
    let pages: BTreeSet<&str> = cases().iter().map(Case::page).collect();
    let all = [
        "answer",
        "dark",
        "dry",
        "edges",
        "edit",
        "fault",
        "guide",
        "halve",
        "list",
        "notice",
        "pair-check",
        "pair-summary",
        "pairs",
        "pan",
        "plan",
        "question",
        "signs",
        "used",
        "uses",
    ];
    for page in all {
        assert!(pages.contains(page), "no case of {page}");
    }
}

/// What an answer rests on stands on its page: no two bases look alike, and a scaled record does not pass for one's own.
#[test]
fn every_basis_can_be_told_from_the_page() {
    for name in ["leftover-enough", "rest-enough"] {
        let case = cases().iter().find(|case| case.name() == name).expect("a case");
        let Body::Answer(page) = case.view().body else {
            panic!("{name} is an answer");
        };
        for (language, _) in LANGUAGES {
            let mut seen: Vec<(Basis, Picture)> = Vec::new();
            let quarter = |pairs| Reserve::Quarter { pairs };
            let by_pairs = Reserve::Spread { pairs: 3 };
            let two = [by_pairs, quarter(u8::MAX)];
            for (source, scaled, reserves) in [
                (
                    Source::Records,
                    false,
                    &[by_pairs, quarter(1), quarter(2), quarter(3)][..],
                ),
                (Source::Records, true, &two),
                (Source::Estimate, false, &two),
            ] {
                for &reserve in reserves {
                    let basis = Basis {
                        source,
                        reserve,
                        scaled,
                    };
                    let mut view = case.in_language(language);
                    view.body = Body::Answer(AnswerPage {
                        answer: page.answer.map(|answer| Answer { basis, ..answer }),
                        ..page
                    });
                    let picture = Picture::from(&frame_of(&view));
                    let twin = seen.iter().find(|(_, other)| *other == picture);
                    assert_eq!(twin.map(|(other, _)| other), None, "{name}: looks like {basis:?}");
                    seen.push((basis, picture));
                }
            }
        }
    }
}

#[test]
fn a_picture_survives_its_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("picture.png");
    for (_, picture) in drawn().into_iter().take(3) {
        let large = picture.enlarged(SCALE);
        large.save(&path).expect("written");
        let read = Picture::load(&path).expect("read");
        assert_eq!(read, large);
        assert_eq!(read.reduced(SCALE).as_ref(), Some(&picture));
        let mut blurred = large;
        blurred.set(1, 1, !blurred.is_lit(1, 1));
        assert_eq!(blurred.reduced(SCALE), None, "one pixel of a square differs");
    }
}
