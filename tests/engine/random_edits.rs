//! Properties over random edits: a job never leaves its invariants, a refused edit leaves no trace, and whatever comes
//! out is the same job after a trip through its file.

use midspan::job::quantity::Units;
use midspan::job::reshape::LandEnds;
use midspan::job::{
    BoreLand, CentreHole, Cut, Document, DriveEnd, Edit, Feature, FeatureKind, Follower, Force, Jaw, Job, Land, Lathe,
    MaterialChoice, Pass, PassId, PassKind, Pinning, Reading, Reshape, Rest, RestId, SetTo, Setup, SetupId, Shaft,
    Sleeve, Spread, Stated, Stiffness, TailEnd, TailKind, TipKind, TitleBlock, Tolerance, Tool, WantedLand, examples,
    file,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;

/// Mostly what a turner types, now and then what nobody should.
fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        30 => 0.001f64..2000.0,
        6 => (1u32..100_000).prop_map(|thousandths| f64::from(thousandths) / 1000.0),
        3 => -500.0f64..500.0,
        1 => Just(0.0),
        1 => Just(-0.0),
        1 => any::<f64>(),
    ]
}

fn small() -> impl Strategy<Value = f64> {
    prop_oneof![20 => 0.0f64..1.0, 1 => number()]
}

/// Numbers of things that are there, and of some that are not.
fn id() -> impl Strategy<Value = u32> {
    0u32..20
}

fn stiffness() -> impl Strategy<Value = Stiffness> {
    prop_oneof![
        Just(Stiffness::Rigid),
        number().prop_map(Stiffness::assumed),
        number().prop_map(|value| Stiffness::Spring(Stated::given(value))),
    ]
}

fn jaw() -> impl Strategy<Value = Jaw> {
    (-6.2f64..6.2, small(), stiffness()).prop_map(|(angle_rad, gap_mm, k_n_per_mm)| Jaw {
        angle_rad,
        gap_mm,
        k_n_per_mm,
    })
}

fn sleeve() -> impl Strategy<Value = Sleeve> {
    prop_oneof![
        Just(Sleeve::None),
        (number(), number()).prop_map(|(diameter_mm, width_mm)| Sleeve::CatHead { diameter_mm, width_mm }),
        (number(), number()).prop_map(|(diameter_mm, width_mm)| Sleeve::Bush { diameter_mm, width_mm }),
    ]
}

fn rest() -> impl Strategy<Value = Rest> {
    let tip = prop::sample::select(vec![TipKind::Bronze, TipKind::Plastic, TipKind::Roller]);
    let set_to = prop::sample::select(vec![SetTo::Work, SetTo::Axis]);
    (id(), number(), vec(jaw(), 0..6), tip, set_to, small(), sleeve()).prop_map(
        |(id, z_mm, jaws, tip, set_to, offset_x_mm, sleeve)| Rest {
            id: RestId(id),
            z_mm,
            jaws,
            tip,
            set_to,
            offset_x_mm,
            offset_y_mm: -offset_x_mm,
            sleeve,
            spot: midspan::job::Spot::round(),
            tip_bored_mm: None,
        },
    )
}

fn pass() -> impl Strategy<Value = Pass> {
    let cut = prop_oneof![
        number().prop_map(|on_diameter_mm| Cut::Depth { on_diameter_mm }),
        number().prop_map(|diameter_mm| Cut::ToDiameter { diameter_mm }),
        small().prop_map(|leave_on_diameter_mm| Cut::ToDrawing { leave_on_diameter_mm }),
    ];
    let force = prop_oneof![
        Just(Force::FromCut),
        (number(), any::<bool>()).prop_map(|(radial_n, follows_depth)| Force::Typed {
            radial_n,
            main_n: 2.0 * radial_n,
            feed_n: radial_n,
            follows_depth,
        }),
    ];
    let kind = prop::sample::select(vec![PassKind::Turn, PassKind::Spring, PassKind::Thread, PassKind::Face]);
    (id(), kind, number(), number(), cut, small(), number(), force).prop_map(
        |(id, kind, from_z_mm, to_z_mm, cut, feed_mm_per_rev, speed_rpm, force)| Pass {
            id: PassId(id),
            kind,
            from_z_mm,
            to_z_mm,
            cut,
            feed_mm_per_rev,
            speed_rpm,
            force,
        },
    )
}

fn land() -> impl Strategy<Value = Land> {
    (number(), number(), number()).prop_map(|(length_mm, start_diameter_mm, end_diameter_mm)| Land {
        length_mm,
        start_diameter_mm,
        end_diameter_mm,
    })
}

fn tolerance() -> impl Strategy<Value = Tolerance> {
    prop_oneof![
        Just(Tolerance::Free),
        (small(), small()).prop_map(|(lower_mm, upper_mm)| Tolerance::Limits { lower_mm, upper_mm }),
        (4u8..13).prop_map(|grade| Tolerance::H { grade }),
        (5u8..12).prop_map(|grade| Tolerance::Js { grade }),
    ]
}

fn shaft() -> impl Strategy<Value = Shaft> {
    let wanted =
        (land(), tolerance(), ".{0,8}").prop_map(|(land, tolerance, name)| WantedLand { land, tolerance, name });
    let feature = (number(), number(), small()).prop_map(|(from_s_mm, length_mm, pitch_mm)| Feature {
        kind: FeatureKind::Thread { pitch_mm },
        from_s_mm,
        to_s_mm: from_s_mm + length_mm,
    });
    let bore = (0.0f64..500.0, number(), small()).prop_map(|(from_s_mm, length_mm, diameter_mm)| BoreLand {
        from_s_mm,
        to_s_mm: from_s_mm + length_mm,
        start_diameter_mm: diameter_mm,
        end_diameter_mm: 1.5 * diameter_mm,
    });
    let hole = option::of(small().prop_map(CentreHole::in_the_middle));
    (vec(land(), 0..6), vec(wanted, 0..5), vec(feature, 0..3), vec(bore, 0..2), hole, number(), small()).prop_map(
        |(stock, wanted, features, bores, centre_hole_a, wanted_start_s_mm, bow_tir_mm)| Shaft {
            material: MaterialChoice::Listed("304".to_owned()),
            stock,
            bores,
            wanted_start_s_mm,
            wanted,
            features,
            centre_hole_a,
            centre_hole_b: None,
            bow_tir_mm,
            bow_at_rad: 0.0,
        },
    )
}

fn reshape() -> impl Strategy<Value = Reshape> {
    let ends = prop::sample::select(vec![LandEnds::Start, LandEnds::End, LandEnds::Both]);
    prop_oneof![
        shaft().prop_map(|shaft| Reshape::Typed(Box::new(shaft))),
        (0usize..4, number()).prop_map(|(shoulder, to_s_mm)| Reshape::MoveShoulder { shoulder, to_s_mm }),
        (0usize..4, ends, number()).prop_map(|(land, ends, diameter_mm)| Reshape::SetDiameter {
            land,
            ends,
            diameter_mm
        }),
        (0usize..4, number()).prop_map(|(land, at_s_mm)| Reshape::Split { land, at_s_mm }),
        (0usize..4, 0usize..4).prop_map(|(land, keeps)| Reshape::Join { land, keeps }),
    ]
}

fn edit() -> impl Strategy<Value = Edit> {
    let setup = || (0u32..12).prop_map(SetupId);
    let reading = (id(), number(), number(), option::of(small())).prop_map(|(pass, z_mm, diameter_mm, warmer_by_k)| {
        Reading { pass: PassId(pass), z_mm, diameter_mm, warmer_by_k }
    });
    let one = prop_oneof![
        ".{0,20}".prop_map(Edit::SetTitle),
        "(?s).{0,40}".prop_map(Edit::SetNotes),
        (".{0,9}", ".{0,9}", ".{0,9}").prop_map(|(part, owner, date)| Edit::SetTitleBlock(TitleBlock {
            part,
            owner,
            date
        })),
        any::<bool>().prop_map(|inch| Edit::SetUnits(if inch { Units::Inch } else { Units::Metric })),
        shaft().prop_map(Edit::SetShaft),
        reshape().prop_map(Edit::Reshape),
        number().prop_map(|mm| Edit::SetLathe(Lathe { spindle_bore_mm: Stated::given(mm), ..Lathe::small() })),
        vec(reading, 0..4).prop_map(Edit::SetReadings),
        (0.0f64..1.2, small()).prop_map(|(main_ratio, stiffness_factor)| {
            Edit::SetSpread(Spread { main_ratio, stiffness_factor, ..Spread::usual() })
        }),
        (setup(), number(), any::<bool>()).prop_map(|(setup, warmer_by_k, jaw_friction)| Edit::SetConditions {
            setup,
            warmer_by_k,
            jaw_friction,
        }),
        (0usize..5).prop_map(|at| Edit::AddSetup { at }),
        vec((0u32..9).prop_map(|id| Setup { id: SetupId(id), ..examples::opening().setups[0].clone() }), 0..3)
            .prop_map(|setups| Edit::PutArrangement { setups, readings: Vec::new() }),
        setup().prop_map(Edit::CopySetup),
        setup().prop_map(Edit::RemoveSetup),
        (setup(), 0usize..5).prop_map(|(setup, to)| Edit::MoveSetup { setup, to }),
        (setup(), ".{0,9}").prop_map(|(setup, name)| Edit::RenameSetup { setup, name }),
        setup().prop_map(Edit::TurnEndForEnd),
        (setup(), number()).prop_map(|(setup, z_mm)| Edit::SetWorkStart { setup, z_mm }),
        (setup(), number()).prop_map(|(setup, grip_mm)| Edit::SetDrive { setup, drive: DriveEnd::three_jaw(grip_mm) }),
        (setup(), small(), small()).prop_map(|(setup, thrust_n, offset_x_mm)| Edit::SetTail {
            setup,
            tail: TailEnd { kind: TailKind::HalfCentre, thrust_n, offset_x_mm, ..TailEnd::live() },
        }),
        (setup(), 0.0f64..2.0).prop_map(|(setup, entering_angle_rad)| Edit::SetTool {
            setup,
            tool: Tool { entering_angle_rad, ..Tool::usual() },
        }),
        (setup(), option::of((number(), jaw()))).prop_map(|(setup, follower)| Edit::SetFollower {
            setup,
            follower: follower.map(|(distance_mm, jaw)| Follower {
                distance_mm,
                jaws: [jaw, jaw],
                ..Follower::usual()
            }),
        }),
        (setup(), rest()).prop_map(|(setup, rest)| Edit::AddRest { setup, rest }),
        (setup(), rest()).prop_map(|(setup, rest)| Edit::SetRest { setup, rest }),
        (setup(), id()).prop_map(|(setup, rest)| Edit::RemoveRest { setup, rest: RestId(rest) }),
        (setup(), 0usize..5, pass()).prop_map(|(setup, at, pass)| Edit::AddPass { setup, at, pass }),
        (setup(), pass()).prop_map(|(setup, pass)| Edit::SetPass { setup, pass }),
        (setup(), id()).prop_map(|(setup, pass)| Edit::RemovePass { setup, pass: PassId(pass) }),
        (setup(), id(), 0usize..5).prop_map(|(setup, pass, to)| Edit::MovePass { setup, pass: PassId(pass), to }),
    ];
    one.boxed().prop_recursive(2, 6, 3, |inner| vec(inner, 0..3).prop_map(Edit::Together))
}

/// What a person does to a job or to what is pinned beside it.
#[derive(Clone, Debug)]
enum Change {
    Edit(Box<Edit>),
    Pinning(Pinning),
}

fn change() -> impl Strategy<Value = Change> {
    let pinning = prop_oneof![
        Just(Pinning::Pin),
        (0usize..6).prop_map(Pinning::LetGo),
        (option::of(0usize..6), ".{0,20}").prop_map(|(letter, name)| Pinning::Rename(letter, name)),
        (0usize..6).prop_map(Pinning::Swap),
    ];
    prop_oneof![3 => edit().prop_map(|edit| Change::Edit(Box::new(edit))), 2 => pinning.prop_map(Change::Pinning)]
}

fn ids(job: &Job) -> Vec<u32> {
    let in_setups = job.setups.iter().flat_map(|setup| {
        let rests = setup.rests.iter().map(|rest| rest.id.0);
        rests.chain(setup.passes.iter().map(|pass| pass.id.0)).chain([setup.id.0])
    });
    in_setups.collect()
}

proptest! {
    #[test]
    fn whatever_is_edited_and_pinned_a_job_stays_one_and_survives_its_file(
        example in 0..examples::EXAMPLES.len(),
        changes in vec(change(), 1..30),
    ) {
        let mut document = file::from_text(examples::EXAMPLES[example].text).unwrap();
        for change in &changes {
            let before = document.clone();
            let done = match change {
                Change::Edit(edit) => document.job.apply(edit),
                Change::Pinning(pinning) => document.pin(pinning),
            };
            match done {
                Ok(()) => prop_assert!(document.job.next_id >= before.job.next_id),
                Err(_) => prop_assert_eq!(&document, &before, "what is refused leaves no trace"),
            }
            prop_assert_eq!(document.validate(), Ok(()));
        }
        let job = &document.job;
        let mut numbers = ids(job);
        let count = numbers.len();
        numbers.sort_unstable();
        numbers.dedup();
        prop_assert_eq!(numbers.len(), count, "no number twice");
        prop_assert!(numbers.iter().all(|number| *number < job.next_id));
        prop_assert!(!job.setups.is_empty() && !job.shaft.stock.is_empty());
        // Speaking of it must not panic either.
        let _ = job.check();
        let text = file::to_text(&document);
        let read = file::from_text(&text).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(&read, &document);
        prop_assert_eq!(file::to_text(&read), text);
    }

    #[test]
    fn a_damaged_file_is_an_error_and_not_a_crash(
        example in 0..examples::EXAMPLES.len(),
        at in 0.0f64..1.0,
        length in 0usize..40,
        put in ".{0,6}",
    ) {
        let mut whole: Document = examples::load(examples::EXAMPLES[example].key).unwrap().into();
        whole.pin(&Pinning::Pin).unwrap();
        let text = file::to_text(&whole);
        let chars: Vec<char> = text.chars().collect();
        let from = (at * chars.len() as f64) as usize;
        let to = (from + length).min(chars.len());
        let damaged: String = chars[..from].iter().copied().chain(put.chars()).chain(chars[to..].iter().copied()).collect();
        if let Ok(read) = file::from_text(&damaged) {
            prop_assert_eq!(read.validate(), Ok(()));
        }
    }
}
