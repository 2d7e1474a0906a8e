//! The keys of the window: one table, from which keys are taken and menus are labelled.

use egui::{Context, Key, KeyboardShortcut, Modifiers};

use super::Action;
use super::bench::is_on_bench;

const COMMAND_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

const fn keys(modifiers: Modifiers, key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(modifiers, key)
}

/// Keys, what they ask for and how that is told, in the order of the list that is shown of them; the more specific ones
/// before others of the same key, since extra modifiers do not keep a key from matching.
pub const SHORTCUTS: &[(KeyboardShortcut, Action, &str)] = &[
    (keys(COMMAND_SHIFT, Key::N), Action::NewWindow, "opens another window of the program"),
    (keys(Modifiers::COMMAND, Key::N), Action::NewJob, "begins a new job"),
    (keys(COMMAND_SHIFT, Key::O), Action::OpenByPath, "opens a job by typing its path"),
    (keys(Modifiers::COMMAND, Key::O), Action::Open, "opens a job"),
    (keys(COMMAND_SHIFT, Key::S), Action::SaveAs, "saves the job under another name"),
    (keys(Modifiers::COMMAND, Key::S), Action::Save, "saves the job"),
    (keys(COMMAND_SHIFT, Key::T), Action::LastJob, "brings back the job that was open before"),
    (keys(Modifiers::COMMAND, Key::E), Action::Gallery, "shows the example jobs"),
    (keys(Modifiers::COMMAND, Key::P), Action::Sheet, "shows the set-up sheet"),
    (keys(Modifiers::COMMAND, Key::L), Action::Plan, "plans the job for the shaft as it is drawn"),
    (keys(Modifiers::COMMAND, Key::Q), Action::Quit, "closes the window"),
    (keys(COMMAND_SHIFT, Key::Z), Action::Redo, "does again what was undone"),
    (keys(Modifiers::COMMAND, Key::Z), Action::Undo, "undoes the last step"),
    (keys(Modifiers::COMMAND, Key::Y), Action::Redo, "does again what was undone"),
    (keys(Modifiers::NONE, Key::Delete), Action::DeleteSelected, "takes away what is selected"),
    (keys(Modifiers::NONE, Key::F), Action::Fit, "fits everything in view"),
    (keys(Modifiers::NONE, Key::P), Action::Pin, "pins this arrangement to compare with, or lets go one just like it"),
    (keys(Modifiers::COMMAND, Key::K), Action::Compare, "opens or shuts the table of pinned arrangements"),
    (keys(Modifiers::COMMAND, Key::Num1), Action::Swap(0), "changes places with what is pinned as A"),
    (keys(Modifiers::COMMAND, Key::Num2), Action::Swap(1), "changes places with what is pinned as B"),
    (keys(Modifiers::COMMAND, Key::Num3), Action::Swap(2), "changes places with what is pinned as C"),
    (keys(Modifiers::COMMAND, Key::Num4), Action::Swap(3), "changes places with what is pinned as D"),
    (keys(Modifiers::NONE, Key::Space), Action::Play, "plays the cut, or pauses it"),
    (keys(Modifiers::NONE, Key::Period), Action::StepOn, "takes the tool a step on along its passes"),
    (keys(Modifiers::NONE, Key::Comma), Action::StepBack, "takes the tool a step back"),
    (keys(Modifiers::NONE, Key::Escape), Action::EndPlay, "ends the playing, the tool goes back"),
    (keys(Modifiers::COMMAND, Key::Plus), Action::LargerType, "larger type"),
    (keys(Modifiers::COMMAND, Key::Equals), Action::LargerType, "larger type"),
    (keys(Modifiers::COMMAND, Key::Minus), Action::SmallerType, "smaller type"),
    (keys(Modifiers::COMMAND, Key::Num0), Action::UsualType, "type as it was at first"),
    (keys(Modifiers::NONE, Key::F1), Action::KeyList, "shows this list"),
];

/// The keys of an action as they are printed on this desktop, for menus and hints.
#[must_use]
pub fn keys_text(ctx: &Context, action: Action) -> Option<String> {
    SHORTCUTS.iter().find(|(_, of, _)| *of == action).map(|(keys, ..)| ctx.format_shortcut(keys))
}

/// Takes the keys pressed in this frame.
///
/// While a text field has the keyboard, bare keys belong to it; so do undo and redo while what stands in it is not
/// yet entered (`typing`). Space presses what has the keyboard, unless that is a thing on the bench; Esc belongs to the
/// gesture first, and to the cut only while it is played.
pub fn take_keys(ctx: &Context, typing: bool, playing: bool, gesture_open: bool) -> Vec<Action> {
    let in_text = ctx.text_edit_focused();
    let mut actions = Vec::new();
    for (keys, action, _) in SHORTCUTS {
        // Nobody types with the function keys.
        let bare = keys.modifiers == Modifiers::NONE && *action != Action::KeyList;
        let undoing = matches!(action, Action::Undo | Action::Redo);
        if (bare && (in_text || !ctx.input(|input| input.modifiers.is_none()))) || (undoing && typing) {
            continue;
        }
        let is_free = match action {
            Action::Play => ctx.memory(egui::Memory::focused).is_none_or(|id| is_on_bench(ctx, id)),
            Action::EndPlay => playing && !gesture_open,
            _ => true,
        };
        if is_free && ctx.input_mut(|input| input.consume_shortcut(keys)) {
            actions.push(*action);
        }
    }
    if gesture_open && ctx.input(|input| input.pointer.any_down() && input.key_pressed(Key::Escape)) {
        actions.push(Action::CancelGesture);
    }
    actions
}

/// True for an action that uses the document as it stands, so that what is still being typed must be entered first.
#[must_use]
pub fn needs_entered_text(action: Action) -> bool {
    !matches!(
        action,
        Action::Fit
            | Action::Pin
            | Action::Compare
            | Action::Why(_)
            | Action::NewWindow
            | Action::CancelGesture
            | Action::Play
            | Action::StepOn
            | Action::StepBack
            | Action::EndPlay
            | Action::LargerType
            | Action::SmallerType
            | Action::UsualType
            | Action::KeyList
    )
}
