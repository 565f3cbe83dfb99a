//! Jobs to sources: as many of the most needed ones as there can be, then the best source for each.
//!
//! Which sets of jobs can be served together is a matroid (Edmonds and Fulkerson 1965, transversal
//! matroids, from memory), so taking jobs in order of need, each as soon as it can be served beside
//! those before it, serves the best set there is. Whether it can is asked by an augmenting path
//! (Kuhn's way, from memory).

/// For each job in order of need the source it gets, if any. `fits[job]` lists the sources that can
/// do it, the best one for it first; sources go by their place below `sources`.
pub(super) fn assign(fits: &[Vec<usize>], sources: usize) -> Vec<Option<usize>> {
    let mut served: Vec<usize> = Vec::new();
    let mut holder: Vec<Option<usize>> = vec![None; sources];
    for job in 0..fits.len() {
        if serve(job, fits, &mut holder, &mut vec![false; sources]) {
            served.push(job);
        }
    }
    // The same jobs, each with the best source that leaves enough for those after it.
    let mut given: Vec<Option<usize>> = vec![None; fits.len()];
    let mut taken = vec![false; sources];
    for (place, job) in served.iter().enumerate() {
        let rest = &served[place + 1..];
        let best = fits[*job].iter().copied().find(|source| {
            !taken[*source] && {
                taken[*source] = true;
                let possible = can_all(rest, fits, &taken);
                taken[*source] = false;
                possible
            }
        });
        if let Some(source) = best {
            taken[source] = true;
            given[*job] = Some(source);
        }
    }
    given
}

/// Whether all these jobs can be served by sources that are not taken.
fn can_all(jobs: &[usize], fits: &[Vec<usize>], taken: &[bool]) -> bool {
    let mut holder: Vec<Option<usize>> = vec![None; taken.len()];
    jobs.iter().all(|job| serve(*job, fits, &mut holder, &mut taken.to_vec()))
}

/// Finds a source for a job, moving others to other sources where need be. `seen` sources are not
/// asked again.
fn serve(job: usize, fits: &[Vec<usize>], holder: &mut [Option<usize>], seen: &mut [bool]) -> bool {
    for source in &fits[job] {
        if std::mem::replace(&mut seen[*source], true) {
            continue;
        }
        let free = match holder[*source] {
            None => true,
            Some(other) => serve(other, fits, holder, seen),
        };
        if free {
            holder[*source] = Some(job);
            return true;
        }
    }
    false
}
