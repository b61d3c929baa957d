//! Every text on the screen, in every language: one line a text.
//!
//! In sentences `@` stands for a yarn letter, `&` for another, `#` for a mass with its unit and `$` for a whole number.
//! `tests/tests/screens/fit.rs` draws every text in its place, in both languages.

use super::texts::Texts;
use crate::journal::Language;

const COUNT: usize = Word::ALL.len();

/// Makes the table of lines `Name "English" "German"`.
macro_rules! words {
    ($($name:ident $english:literal $german:literal)*) => {
        /// A text on the screen.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
        pub enum Word {
            $(#[doc = concat!("\"", $english, "\"")] $name,)*
        }

        impl Word {
            /// Every text, in the order of the table.
            pub const ALL: &[Self] = &[$(Self::$name,)*];
        }

        static ENGLISH: Texts<COUNT> = Texts::new(concat!($($english),*), &[$($english),*]);
        static GERMAN: Texts<COUNT> = Texts::new(concat!($($german),*), &[$($german),*]);
    };
}

impl Word {
    /// The text in `language`.
    #[must_use]
    pub fn text(self, language: Language) -> &'static str {
        let texts = match language {
            Language::English => &ENGLISH,
            Language::German => &GERMAN,
        };
        texts.nth(self as usize)
    }
}

words! {
    // the keys
    Zero "zero" "Null"
    Bowl "bowl" "Schale"
    Mark "MARK" "MARK"
    WeighIn "weigh in" "einwiegen"
    Undo "undo" "zurück"
    Next "next" "weiter"
    Up "up" "auf"
    Down "down" "ab"
    Choose "choose" "wählen"
    Less "less" "kleiner"
    More "more" "mehr"
    Back "back" "zurück"
    Ok "OK" "OK"
    Skip "skip" "auslassen"
    Take "take" "nehmen"
    Calibrate "calibrate" "kalibrieren"
    Accept "accept" "annehmen"
    ToPlan "plan" "Plan"
    OtherYarn "yarn" "Garn"

    // the parts of a sock
    Cuff "Cuff" "Bund"
    Leg "Leg" "Schaft"
    Heel "Heel" "Ferse"
    Gusset "Gusset" "Zwickel"
    Foot "Foot" "Fuß"
    Toe "Toe" "Spitze"

    // the home page
    Weigh "Weigh" "Wiegen"
    Used "used" "weg"
    Left "left" "noch"
    NotSteady "wait: not steady yet" "warten: noch unruhig"
    MarkWaits "MARK waits: hands off" "MARK wartet: loslassen"
    Starting "starting, please wait" "startet, bitte warten"
    WeighInFirst "@ is new: weigh it in" "@ ist neu: einwiegen"
    PutItOn "put @ on to weigh it in" "@ auflegen: einwiegen"
    LastWeighed "@ last weighed #" "@ wog zuletzt #"
    NoSection "new pair: hold NEXT" "Neues Paar: NEXT halten"

    // the small signs: what to do
    SignDoubtful "a mark is in doubt" "eine Marke ist unklar"
    SignJournal "journal nearly full" "Journal fast voll"
    SignZero "empty the pan once" "Waage einmal leeren"
    SignSupply "battery nearly empty" "Akku fast leer"
    NoSigns "no signs" "keine Zeichen"
    Signs "What signs mean" "Zeichen erklärt"

    // the used table and the plan
    UsedTitle "Used" "Summe"
    Nothing "nothing yet" "noch nichts"

    // something has happened
    WeighedIn "weighed in" "eingewogen"
    StartedHere "from here" "ab hier"
    Has "has" "hat"
    Unplanned "no section" "ohne Teil"
    Amended "Corrected" "Berichtigt"
    AmendedWhy "The empty pan showed where zero was." "Die leere Waage zeigte, wo null war."
    TakenBack "Taken back" "Rückgängig"
    WeightTakenBack "The last weight no longer counts." "Das letzte Gewicht zählt nicht mehr."
    OpenAgain "is open again" "ist wieder offen"
    LeftOut "left out" "entfällt"
    BowlSubtracted "is taken off from now on" "wird nun abgezogen"
    ZeroSet "Zero is set" "Null gesetzt"
    Restarted "Started again" "Neu gestartet"
    Hung "It had stopped. What was noted is safe." "Das Gerät stand still. Notiertes ist sicher."
    Broke "It found a fault in itself. What was noted is safe. Code" "Ein Fehler im Gerät. Notiertes ist sicher. Code"

    // refusals: why, and the way out
    NotDone "Not done" "Geht nicht"
    RefusedNotSteady "It did not come to rest. Hands off the yarn, then MARK again." "Die Waage kam nicht zur Ruhe. Loslassen, dann MARK."
    RefusedEmptyPan "The pan is empty. Put the yarn on, then MARK." "Die Waage ist leer. Garn auflegen, dann MARK."
    RefusedZeroLoaded "Too heavy to be called zero. Clear the pan, then ZERO." "Zu schwer für null. Waage leeren, dann ZERO."
    RefusedNoPlan "There is no pair yet. Hold NEXT and choose a new pair." "Noch kein Paar. NEXT halten, neues Paar wählen."
    RefusedPlanDone "All sections are done. Hold NEXT for a new pair." "Alle Teile sind fertig. NEXT halten für ein neues Paar."
    RefusedNothingToUndo "There is no mark to take back." "Keine Marke zum Zurücknehmen."
    RefusedNotNoted "The memory did not take it. It is not noted: MARK again." "Nicht gespeichert, nicht notiert: noch einmal MARK."
    RefusedJournalFull "The journal is full. Save it to a computer, then clear it." "Das Journal ist voll. Am Computer sichern, dann leeren."
    RefusedSupplyLow "The battery is too low to note safely. Charge it, then MARK." "Akku zu schwach zum Notieren. Laden, dann MARK."
    RefusedPairFull "This pair holds no more marks. Begin a new pair." "Mehr Marken fasst dieses Paar nicht. Neues Paar beginnen."
    RefusedFaulty "It cannot weigh just now. See the first page." "Wiegen geht gerade nicht. Siehe erste Seite."

    // faults: what is wrong, and the way out
    OtherBoard "The scale needs a Pico, not this board." "Die Waage braucht einen Pico, nicht dieses Board."
    CannotWeigh "Cannot weigh" "Wiegt nicht"
    FaultSensorMissing "No sensor answers. Check its plug, then switch off and on." "Kein Sensor antwortet. Stecker prüfen, aus- und einschalten."
    FaultSensorStuck "The sensor repeats one value. Check its wires, switch off and on." "Der Sensor hängt. Drähte prüfen, aus- und einschalten."
    FaultOverload "Too much on the pan. Take it off: more can bend the sensor." "Zu viel auf der Waage. Abnehmen: mehr verbiegt den Sensor."
    FaultUnderload "The pan is lifted or missing. Set it down so that it is free." "Der Teller fehlt oder klemmt. Frei aufsetzen."
    FaultReversed "The sensor is the other way round. Turn it, or calibrate anew." "Der Sensor sitzt verkehrt. Umdrehen oder neu kalibrieren."
    FaultUncalibrated "Not calibrated yet. MARK begins: have a known mass or coins ready." "Noch nicht kalibriert. MARK beginnt: Gewicht oder Münzen bereitlegen."

    // questions
    WhyAmbiguous "More than one yarn can weigh this. Which is it?" "Mehr als ein Garn kann so viel wiegen. Welches?"
    WhyHeavier "@ is # heavier than noted. What is it?" "@ ist # schwerer als notiert. Was ist es?"
    WhyLighter "@ is # lighter than noted. A mark missed?" "@ ist # leichter. Fehlt eine Marke?"
    WhyUnchanged "@ weighs the same as last time. MARK twice?" "@ wiegt wie zuletzt. Doppelt gedrückt?"
    WhyUsedUp "The pan is empty. Is @ used up?" "Die Waage ist leer. Ist @ aufgebraucht?"
    WhyOtherYarn "Planned is @, but it weighs like &. Which?" "Geplant ist @, es wiegt aber wie &. Welches?"
    ChoiceSection "@ used" "@ verstrickt"
    ChoiceBowl "@ used, bowl $" "@, Schale $"
    ChoiceNoBowl "@ used, no bowl" "@, ohne Schale"
    ChoiceWeighIn "new yarn: weigh in as @" "neues Garn @ einwiegen"
    ChoiceStart "count @ from here" "@ ab hier zählen"
    ChoiceNotNow "not now" "jetzt nicht"

    // lists: what can be done
    Everything "Everything" "Alles"
    Plan "Plan" "Plan"
    NewPair "New pair" "Neues Paar"
    Bowls "Bowls" "Schalen"
    Yarns "Yarns" "Garne"
    Units "Units" "Einheit"
    Grams "grams" "Gramm"
    Ounces "ounces" "Unzen"
    WhichVisit "Which weighing?" "Welche Wägung?"
    MinutesAgo "min ago" "min her"
    HoursAgo "h ago" "h her"
    DaysAgo "days ago" "Tage her"
    WhichBowl "Which bowl?" "Welche Schale?"
    BowlOf "Bowl" "Schale"
    NewBowl "New bowl" "Neue Schale"
    NoBowl "No bowl" "Keine Schale"

    // plans
    OneYarn "One yarn" "Ein Garn"
    ContrastHeelsToes "Heels, toes" "Fersen, Spitzen"
    ContrastCuffsHeelsToes "Cuffs, heels, toes" "Bund, Fersen, Spitzen"
    OneYarnToeUp "Toe-up: one yarn" "Ab Spitze: ein Garn"
    ContrastToeUp "Toe-up: contrast" "Ab Spitze: Kontrast"
    OneAfterTheOther "One, then the other" "Nacheinander"
    TwoAtATime "Two at a time" "Beide zugleich"
    OneSock "One sock" "Eine Socke"

    // one section
    ThisSection "This section" "Dieser Teil"
    KnitThisNext "Knit this next" "Als Nächstes stricken"
    ChangeYarn "Yarn" "Garn"
    ForgottenMark "Forgotten mark" "Vergessene Marke"
    SkipSection "Leave it out" "Entfällt"
    AnotherSection "Add a section" "Teil anfügen"
    Section "Section" "Teil"
    HowWorked "Worked" "Gestrickt"
    Stitches "Stitches" "Maschen"
    Plain "plain" "glatt"
    RibOneByOne "rib 1×1" "Rippen 1×1"
    RibTwoByTwo "rib 2×2" "Rippen 2×2"
    RibTwisted "twisted rib" "verschränkt"
    HeelFlap "flap, gusset" "Käppchen"
    HeelShortRow "short rows" "verkürzt"
    HeelAfterthought "afterthought" "nachträglich"
    ToeWedge "wedge" "Bandspitze"
    ToeRounded "rounded" "rund"
    ToeAsymmetric "asymmetric" "asymmetrisch"

    // answers
    Enough "enough" "reicht"
    Close "close" "knapp"
    Short "short" "fehlt"
    Needs "needs" "braucht"
    OneSockNeeds "1 sock:" "1 Socke:"
    BothSocksNeed "2 socks:" "2 Socken:"
    OtherYarnFor "take another yarn for" "anderes Garn nehmen:"
    SourceNothing "nothing left to knit" "nichts mehr zu stricken"
    SourceFirstSock "as sock 1 took" "so viel wie Socke 1"
    SourceFirstSockScaled "as sock 1, scaled" "wie Socke 1, skaliert"
    SourceRecords "as your pairs took" "wie frühere Paare"
    SourceRecordsScaled "as your pairs, scaled" "wie Paare, skaliert"
    SourceEstimate "by stitches and gauge" "nach Maschenzahl"
    ReserveSpread "reserve: $ pairs" "Reserve: $ Paare"
    ReserveQuarter "reserve: a quarter" "Reserve: ein Viertel"
    ByFirstSock "by sock 1" "Socke 1"
    ByRecords "by records" "früher"
    ByRecordsScaled "scaled" "skaliert"
    ByEstimate "estimated" "geschätzt"
    Pairs "pairs" "Paare"
    NothingKnown "not known" "unklar"
    NothingKnownWhy "Knit it once, or give its stitches." "Einmal stricken oder Maschen angeben."
    WillItDo "Will it do?" "Reicht es?"
    PutLeftoverOn "Put a leftover on the pan" "Rest auf die Waage legen"
    Halve "Halve a cake" "Knäuel teilen"
    HalveBegin "Put the whole cake on, then MARK." "Ganzes Knäuel auflegen, dann MARK."
    HalveToGo "Wind off" "Abwickeln"
    HalveSlowly "Slowly" "Langsam"
    HalveEqual "Stop: equal" "Halt: gleich"
    HalveTooFar "Too far: back" "Zu weit: zurück"
    HalveStop "stop at #" "Halt bei #"

    // the finished pair
    PairCheck "Pair check" "Paar prüfen"
    PutPairOn "Put the pair on the pan" "Paar auf die Waage legen"
    GapNone "agrees" "stimmt"
    GapNoneWhy "The pair weighs what its sections took." "Das Paar wiegt, was seine Teile brauchten."
    GapEnds "ends" "Fäden"
    GapEndsWhy "Lighter by the ends that were cut off." "Leichter um die abgeschnittenen Fäden."
    GapDamp "damp?" "feucht?"
    GapDampWhy "A little heavier: the pair or the air is damp." "Etwas schwerer: das Paar oder die Luft ist feucht."
    GapMissed "more" "mehr"
    GapMissedWhy "Heavier by a section: was a mark forgotten?" "Schwerer um einen Teil: Marke vergessen?"
    GapTooMuch "less" "weniger"
    GapTooMuchWhy "Lighter: a mark too many, or yarn ripped out." "Leichter: Marke zu viel oder Garn aufgezogen."
    DryYet "Dry yet?" "Schon trocken?"
    DryAgain "again" "nochmal"
    DryAgainWhy "Weigh it again in an hour or two." "In ein, zwei Stunden nochmal wiegen."
    Drying "drying" "trocknet"
    DryingWhy "It still falls. Weigh it again later." "Es wird noch leichter. Später nochmal wiegen."
    DryStalled "damp air" "klamm"
    DryStalledWhy "It falls no more, yet is above its dry weight." "Wird nicht leichter, ist aber noch nicht trocken."
    Dry "dry" "trocken"
    DryWhy "Back at the weight it had before washing." "Wieder so schwer wie vor dem Waschen."
    DryUnknownWhy "What it weighed before is not known." "Gewicht davor ist nicht bekannt."
    DryStill "has not fallen for $ h" "seit $ h nicht leichter"
    Estimate "Estimate" "Schätzung"
    ControlSkein "Control skein" "Kontrollstrang"

    // yarns and settings
    Yarn "Yarn" "Garn"
    LengthOf100Grams "100 g are" "100 g sind"
    Metres "m" "m"
    Fibre "Fibre" "Faser"
    WoolPolyamide "wool 75 PA 25" "Wolle 75 PA 25"
    Wool "wool" "Wolle"
    Cotton "cotton" "Baumwolle"
    Silk "silk" "Seide"
    Synthetic "synthetic" "Kunstfaser"
    NotKnown "not known" "unbekannt"
    Language "Language" "Sprache"
    ThisLanguage "English" "Deutsch"
    Brightness "Brightness" "Helligkeit"
    SleepAfter "Sleep after" "Schläft nach"
    Minutes "min" "min"
    Sound "Sound" "Ton"
    On "on" "an"
    Off "off" "aus"
    HoldMarkToLeave "hold MARK to leave" "MARK halten: zurück"

    // calibration
    Calibration "Calibration" "Kalibrieren"
    EmptyThePan "Empty the pan" "Waage leeren"
    KnownMass "Known mass" "Bekannte Masse"
    Coins "Coins" "Münzen"
    WhichCoin "Which coin?" "Welche Münze?"
    HowMany "How many?" "Wie viele?"
    PutOnPan "Put it on the pan" "Auf die Waage legen"
    WithCup "With any cup" "Mit einer Tasse"
    CupOnPan "Any cup of 150 g or more" "Eine Tasse ab 150 g auflegen"
    MassWithCup "Now the mass with it" "Nun die Masse dazu"
    Repeatability "Scatter" "Streuung"
    Corners "Corners" "Ecken"
    PlaceInMiddle "Load in the middle" "Last in die Mitte"
    LiftAndPlaceAgain "Lift it, put it back" "Abheben, neu auflegen"
    PlaceInFront "Load at the front" "Last nach vorn"
    PlaceAtBack "Load at the back" "Last nach hinten"
    PlaceAtLeft "Load at the left" "Last nach links"
    PlaceAtRight "Load at the right" "Last nach rechts"
    FinishCalibration "Finish" "Fertig"
    AcceptCalibration "Accept?" "Annehmen?"
    Of300Grams "of 300 g" "von 300 g"
    Linearity "Straight to" "Gerade auf"
    NotTried "not tried" "nicht probiert"
    RefusedPressed "The pan was pressed. Empty it, MARK, and put it down lightly." "Der Teller wurde gedrückt. Leeren, MARK, sanft neu auflegen."
    RefusedTooFewPoints "One load is not enough. Weigh another known mass." "Eine Last genügt nicht. Noch eine bekannte Masse wiegen."
    RefusedNoZero "The empty pan is missing. Begin with it." "Die leere Waage fehlt. Mit ihr beginnen."
    RefusedTooLight "The load is too light to calibrate with. Take a heavier one." "Die Last ist zu leicht. Eine schwerere nehmen."
    RefusedNoResponse "The sensor hardly feels the load. Check its wires." "Der Sensor spürt die Last kaum. Drähte prüfen."
    RefusedNotStraight "The loads contradict each other. Is one wrong? Try again." "Die Lasten passen nicht zusammen. Stimmt eine nicht?"
    RefusedNonsense "That makes no calibration. The old one stays." "Das gibt keine Kalibrierung. Die alte bleibt."

    // diagnostics
    Diagnostics "Diagnostics" "Diagnose"
    SelfTest "Self-test" "Selbsttest"
    Good "good" "gut"
    Bad "look below" "siehe unten"
    Poor "poor" "hoch"
    Counts "Counts" "Zählwert"
    Noise "Noise" "Rauschen"
    MilligramsShort "mg" "mg"
    Drift "Drift" "Drift"
    MilligramsAMinute "mg/min" "mg/min"
    Supply "Supply" "Spannung"
    Millivolts "mV" "mV"
    JournalUsed "Journal used" "Journal belegt"
    Percent "%" "%"
    Damaged "Damaged" "Beschädigt"
    Hangs "Restarts: hang" "Neustarts: Hänger"
    Errors "Restarts: error" "Neustarts: Fehler"
    CalibrationOf100Grams "Span of 100 g" "Spanne 100 g"
    Version "Version" "Version"
}
