//! Invented shafts of many kinds for which a plan is asked.

use midspan::job::{
    BoreLand, CentreHole, Feature, FeatureKind, Job, Land, Lathe, MaterialChoice, Setup, SetupId, Shaft, Tolerance,
    Units, WantedLand,
};

/// A finished length: how long, how thick, how close.
pub fn wanted(length_mm: f64, diameter_mm: f64, tolerance: Tolerance) -> WantedLand {
    WantedLand { land: Land::cylinder(length_mm, diameter_mm), tolerance, name: String::new() }
}

/// Stock of one diameter with centre holes at the ends named, the finished part beginning at `start_mm`.
pub fn shaft(stock: &[(f64, f64)], start_mm: f64, wanted: Vec<WantedLand>, holes: [bool; 2]) -> Shaft {
    let hole = |is_there: bool| is_there.then(|| CentreHole::in_the_middle(4.0));
    Shaft {
        stock: stock.iter().map(|(length_mm, diameter_mm)| Land::cylinder(*length_mm, *diameter_mm)).collect(),
        wanted_start_s_mm: start_mm,
        wanted,
        centre_hole_a: hole(holes[0]),
        centre_hole_b: hole(holes[1]),
        ..Shaft::bar(MaterialChoice::Listed("C45".to_owned()), 40.0, 600.0)
    }
}

/// A job with this shaft on this lathe, nothing planned yet.
pub fn job(shaft: Shaft, lathe: Lathe) -> Job {
    Job::new("to be planned", Units::Metric, shaft, lathe, Setup::chuck_and_centre(SetupId(1), 20.0))
}

/// The shafts by name.
pub fn shafts() -> Vec<(&'static str, Job)> {
    let free = Tolerance::Free;
    let close = Tolerance::Limits { lower_mm: -0.04, upper_mm: 0.0 };
    let wide = Tolerance::Limits { lower_mm: -0.1, upper_mm: 0.1 };
    let mut tube = shaft(&[(300.0, 60.0)], 50.0, vec![wanted(250.0, 58.0, wide)], [false, false]);
    tube.bores = vec![BoreLand { from_s_mm: 0.0, to_s_mm: 300.0, start_diameter_mm: 40.0, end_diameter_mm: 40.0 }];
    let mut threaded =
        shaft(&[(400.0, 30.0)], 45.0, vec![wanted(255.0, 26.0, wide), wanted(100.0, 20.0, free)], [false, true]);
    threaded.features = vec![
        Feature { kind: FeatureKind::Thread { pitch_mm: 1.5 }, from_s_mm: 340.0, to_s_mm: 400.0 },
        Feature { kind: FeatureKind::Groove { depth_mm: 1.5 }, from_s_mm: 300.0, to_s_mm: 304.0 },
    ];
    let tapered = shaft(
        &[(420.0, 40.0)],
        50.0,
        vec![
            wanted(120.0, 36.0, wide),
            WantedLand {
                land: Land { length_mm: 150.0, start_diameter_mm: 36.0, end_diameter_mm: 28.0 },
                tolerance: free,
                name: "taper".to_owned(),
            },
            wanted(100.0, 28.0, wide),
        ],
        [true, true],
    );
    vec![
        ("stub", job(shaft(&[(120.0, 40.0)], 45.0, vec![wanted(75.0, 36.0, wide)], [false, false]), Lathe::medium())),
        (
            "with a stub to hold",
            job(shaft(&[(350.0, 32.0)], 45.0, vec![wanted(305.0, 30.0, close)], [true, true]), Lathe::medium()),
        ),
        (
            "stepped both ways",
            job(
                shaft(
                    &[(600.0, 50.0)],
                    0.0,
                    vec![
                        wanted(120.0, 30.0, close),
                        wanted(80.0, 40.0, close),
                        wanted(200.0, 48.0, wide),
                        wanted(80.0, 40.0, close),
                        wanted(120.0, 25.0, close),
                    ],
                    [true, true],
                ),
                Lathe::medium(),
            ),
        ),
        (
            "thin neck",
            job(
                shaft(
                    &[(500.0, 45.0)],
                    0.0,
                    vec![wanted(200.0, 42.0, wide), wanted(60.0, 18.0, free), wanted(240.0, 42.0, wide)],
                    [true, true],
                ),
                Lathe::medium(),
            ),
        ),
        (
            "slender rod",
            job(shaft(&[(900.0, 22.0)], 45.0, vec![wanted(855.0, 20.0, close)], [true, true]), Lathe::medium()),
        ),
        (
            "slender and stepped",
            job(
                shaft(
                    &[(1000.0, 30.0)],
                    0.0,
                    vec![wanted(400.0, 24.0, wide), wanted(250.0, 27.0, close), wanted(350.0, 24.0, wide)],
                    [true, true],
                ),
                Lathe::medium(),
            ),
        ),
        (
            "no centres",
            job(
                shaft(
                    &[(503.0, 36.0)],
                    0.0,
                    vec![wanted(250.0, 30.0, wide), wanted(250.0, 34.0, close)],
                    [false, false],
                ),
                Lathe::medium(),
            ),
        ),
        (
            "heavy roll",
            job(
                shaft(
                    &[(1500.0, 150.0)],
                    0.0,
                    vec![wanted(250.0, 90.0, close), wanted(1000.0, 145.0, wide), wanted(250.0, 90.0, close)],
                    [true, true],
                ),
                Lathe::large(),
            ),
        ),
        ("tube", job(tube, Lathe::medium())),
        ("threaded and grooved", job(threaded, Lathe::medium())),
        ("tapered", job(tapered, Lathe::medium())),
        (
            "small pin",
            job(
                shaft(&[(160.0, 12.0)], 25.0, vec![wanted(85.0, 10.0, close), wanted(50.0, 8.0, close)], [false, true]),
                Lathe::small(),
            ),
        ),
        (
            "very long screw blank",
            job(shaft(&[(2600.0, 42.0)], 70.0, vec![wanted(2530.0, 38.0, wide)], [true, true]), Lathe::large()),
        ),
        (
            "stub and steady",
            job(
                shaft(
                    &[(1100.0, 30.0)],
                    70.0,
                    vec![wanted(380.0, 24.0, wide), wanted(250.0, 27.0, close), wanted(400.0, 24.0, wide)],
                    [true, true],
                ),
                Lathe::medium(),
            ),
        ),
        (
            "thin bar without centres",
            job(
                shaft(
                    &[(300.0, 25.0)],
                    0.0,
                    vec![wanted(150.0, 22.0, wide), wanted(150.0, 20.0, wide)],
                    [false, false],
                ),
                Lathe::medium(),
            ),
        ),
        (
            "long and stepped",
            job(
                shaft(
                    &[(1350.0, 28.0)],
                    0.0,
                    vec![wanted(500.0, 22.0, wide), wanted(350.0, 25.0, close), wanted(500.0, 22.0, wide)],
                    [true, true],
                ),
                Lathe::medium(),
            ),
        ),
    ]
}
