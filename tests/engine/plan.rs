//! Plans for invented shafts: whole, legal, in the trade's order.

use midspan::study::plan::plan;

use crate::plan_shafts::shafts;

#[test]
fn look() {
    for (name, job) in shafts() {
        let begun = std::time::Instant::now();
        match plan(&job, &|| true) {
            Ok(plan) => {
                println!("== {name}: {} set-ups, outside {:.4}, left {:?}, {:?}", plan.setups().len(), plan.outside_mm, plan.left, begun.elapsed());
                for step in &plan.steps {
                    println!("  {} {:?} {:?}", step.setup + 1, step.what, step.why);
                }
                for setup in plan.setups() {
                    println!("    {} turned {} rests {:?} passes {}", setup.name, setup.end_for_end, setup.rests.iter().map(|r| r.z_mm).collect::<Vec<_>>(), setup.passes.len());
                }
            }
            Err(why) => println!("== {name}: no plan {why:?} {:?}", begun.elapsed()),
        }
    }
}
