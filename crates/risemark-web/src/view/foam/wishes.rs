//! What the user fixes of the order: where to begin, a sequence, one wall after the other.

use std::sync::Arc;

use leptos::prelude::*;
use risemark::{
    job::{CrewSettings, HoleName},
    plan::WallPlan,
    shots::PlannedShot,
};

use super::order::Shown;
use crate::{
    command::Command,
    poured::Poured,
    session::Session,
    view::{changeable::changeable, field::refused},
    words,
};

/// What the buttons act on.
#[derive(Clone, Copy)]
struct Wishes {
    session: Session,
    poured: Memo<Arc<Poured>>,
    shown: Shown,
    sequence: Memo<Vec<HoleName>>,
    message: RwSignal<String>,
}

/// What can be fixed, and what is.
pub fn wishes(session: Session, poured: Memo<Arc<Poured>>, shown: Shown) -> AnyView {
    let sequence = Memo::new(move |_| session.job(|job| job.crew.sequence.clone()));
    let message = RwSignal::new(String::new());
    let wishes = Wishes { session, poured, shown, sequence, message };
    let kept = move || wishes.kept();
    view! {
        <p class="acts">
            {changeable(session, (beginning(wishes), in_sequence(wishes), walls(wishes)))}
        </p>
        {move || kept().map(|kept| view! { <p class="quiet" id="sequence-kept">{kept}</p> })}
        <p class="message" role="alert">{message}</p>
    }
    .into_any()
}

/// The holes of the shots in the order that is shown, as the job names them.
pub fn names(poured: Memo<Arc<Poured>>, shown: Shown) -> Vec<Option<HoleName>> {
    let Some(plan) = shown.search.plan.get_untracked() else { return Vec::new() };
    poured.with_untracked(|poured| {
        let name = |shot: &PlannedShot| {
            let wall = poured.plan.walls.get(shot.wall)?.wall.id.clone();
            Some(HoleName { wall, hole: u32::try_from(shot.hole).ok()? })
        };
        plan.order.iter().map(name).collect()
    })
}

impl Wishes {
    fn change(self, put: &dyn Fn(&mut CrewSettings)) {
        let mut crew = untrack(|| self.session.job(|job| job.crew.clone()));
        put(&mut crew);
        let done = refused(self.session.run(Command::Crew(crew)), self.session);
        self.message.set(done.err().unwrap_or_default());
    }

    /// The chosen shot by its place in the order, and its hole.
    fn chosen(self) -> Option<(usize, HoleName)> {
        let chosen = untrack(|| self.shown.chosen.get())?;
        Some((chosen, names(self.poured, self.shown).into_iter().nth(chosen).flatten()?))
    }

    /// Some of the holes, each once, in the order that is shown.
    fn those(self, which: &dyn Fn(usize, &HoleName) -> bool) -> Vec<HoleName> {
        let mut those: Vec<HoleName> = Vec::new();
        for (at, name) in names(self.poured, self.shown).into_iter().enumerate() {
            those.extend(name.filter(|name| which(at, name) && !those.contains(name)));
        }
        those
    }

    fn keep_to_here(self) {
        let Some((last, _)) = self.chosen() else { return };
        let kept = self.those(&|at, _| at <= last);
        // Without its beginning the sequence could come after everything else.
        self.change(&|crew| {
            crew.first = kept.first().cloned();
            crew.sequence.clone_from(&kept);
        });
    }

    fn keep_or_free(self) {
        let Some((_, chosen)) = self.chosen() else { return };
        let kept = self.sequence.get_untracked();
        let is_kept = kept.contains(&chosen);
        let kept =
            self.those(&|_, name| if *name == chosen { !is_kept } else { kept.contains(name) });
        self.change(&|crew| crew.sequence.clone_from(&kept));
    }

    fn chosen_is_kept(self) -> bool {
        self.shown.chosen.track();
        self.shown.search.plan.track();
        self.chosen().is_some_and(|(_, name)| self.sequence.with(|kept| kept.contains(&name)))
    }

    /// The sequence in words.
    fn kept(self) -> Option<String> {
        let walls = self.poured.with(|poured| {
            let named = |plan: &WallPlan| (plan.wall.id.clone(), plan.wall.name.clone());
            poured.plan.walls.iter().map(named).collect::<Vec<_>>()
        });
        let said = |name: &HoleName| {
            let wall = walls.iter().find(|(id, _)| *id == name.wall);
            format!("{} {}", wall.map_or(&name.wall, |(_, name)| name), name.hole)
        };
        let holes: Vec<String> = self.sequence.with(|kept| kept.iter().map(said).collect());
        (!holes.is_empty()).then(|| words::sequence_kept(&holes.join(", ")))
    }

    fn none_is_chosen(self) -> bool {
        self.shown.chosen.get().is_none()
    }
}

fn beginning(wishes: Wishes) -> AnyView {
    let begin = move |_| {
        if let Some((_, name)) = wishes.chosen() {
            wishes.change(&|crew| crew.first = Some(name.clone()));
        }
    };
    let free = move |_| wishes.change(&|crew| crew.first = None);
    let begins = move || wishes.session.job(|job| job.crew.first.is_some());
    view! {
        <button type="button" id="begin-here" disabled=move || wishes.none_is_chosen() on:click=begin>
            {words::BEGIN_HERE.text()}
        </button>
        {move || begins().then(|| view! {
            <button type="button" id="free-beginning" on:click=free>{words::FREE_BEGINNING.text()}</button>
        })}
    }
    .into_any()
}

fn in_sequence(wishes: Wishes) -> AnyView {
    let keep_or_free = move || {
        if wishes.chosen_is_kept() { words::FREE_THIS.text() } else { words::KEEP_THIS.text() }
    };
    let free = move |_| wishes.change(&|crew| crew.sequence.clear());
    let is_kept = move || wishes.sequence.with(|kept| !kept.is_empty());
    view! {
        <button type="button" id="keep-to-here" disabled=move || wishes.none_is_chosen()
            on:click=move |_| wishes.keep_to_here()>
            {words::KEEP_TO_HERE.text()}
        </button>
        <button type="button" id="keep-this" disabled=move || wishes.none_is_chosen()
            on:click=move |_| wishes.keep_or_free()>
            {keep_or_free}
        </button>
        {move || is_kept().then(|| view! {
            <button type="button" id="free-sequence" on:click=free>{words::FREE_SEQUENCE.text()}</button>
        })}
    }
    .into_any()
}

fn walls(wishes: Wishes) -> AnyView {
    let in_turn = move |_| {
        let ids: Vec<String> = wishes.poured.with_untracked(|poured| {
            poured.plan.walls.iter().map(|wall| wall.wall.id.clone()).collect()
        });
        wishes.change(&|crew| crew.walls.clone_from(&ids));
    };
    let free = move |_| wishes.change(&|crew| crew.walls.clear());
    let by_wall = move || wishes.session.job(|job| !job.crew.walls.is_empty());
    let button = move || {
        if by_wall() {
            view! { <button type="button" id="free-walls" on:click=free>{words::FREE_WALLS.text()}</button> }
                .into_any()
        } else {
            view! { <button type="button" id="walls-in-turn" on:click=in_turn>{words::WALLS_IN_TURN.text()}</button> }
                .into_any()
        }
    };
    button.into_any()
}
