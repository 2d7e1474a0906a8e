//! The keys of the window: one table, from which keys are taken and menus are labelled.

use egui::{Context, Key, KeyboardShortcut, Modifiers};

use super::Action;

const COMMAND_SHIFT: Modifiers = Modifiers::COMMAND.plus(Modifiers::SHIFT);

const fn keys(modifiers: Modifiers, key: Key) -> KeyboardShortcut {
    KeyboardShortcut::new(modifiers, key)
}

/// Keys and what they do, the more specific ones first, since extra modifiers do not keep a key from matching.
pub const SHORTCUTS: &[(KeyboardShortcut, Action)] = &[
    (keys(COMMAND_SHIFT, Key::Z), Action::Redo),
    (keys(COMMAND_SHIFT, Key::S), Action::SaveAs),
    (keys(COMMAND_SHIFT, Key::O), Action::OpenByPath),
    (keys(Modifiers::COMMAND, Key::Z), Action::Undo),
    (keys(Modifiers::COMMAND, Key::Y), Action::Redo),
    (keys(Modifiers::COMMAND, Key::N), Action::NewJob),
    (keys(Modifiers::COMMAND, Key::O), Action::Open),
    (keys(Modifiers::COMMAND, Key::S), Action::Save),
    (keys(Modifiers::COMMAND, Key::P), Action::Sheet),
    (keys(Modifiers::COMMAND, Key::Q), Action::Quit),
    (keys(Modifiers::COMMAND, Key::Plus), Action::LargerType),
    (keys(Modifiers::COMMAND, Key::Equals), Action::LargerType),
    (keys(Modifiers::COMMAND, Key::Minus), Action::SmallerType),
    (keys(Modifiers::NONE, Key::F), Action::Fit),
    (keys(Modifiers::NONE, Key::P), Action::Pin),
    (keys(Modifiers::NONE, Key::Delete), Action::DeleteSelected),
];

/// The keys of an action as they are printed on this desktop, for menus and hints.
#[must_use]
pub fn keys_text(ctx: &Context, action: Action) -> Option<String> {
    let shown = if action == Action::Unpin { Action::Pin } else { action };
    SHORTCUTS.iter().find(|(_, of)| *of == shown).map(|(keys, _)| ctx.format_shortcut(keys))
}

/// Takes the keys pressed in this frame.
///
/// While a text field has the keyboard, bare keys belong to it; so do undo and redo while what stands in it is not
/// yet entered (`typing`).
pub fn take_keys(ctx: &Context, typing: bool, pinned: bool, gesture_open: bool) -> Vec<Action> {
    let in_text = ctx.text_edit_focused();
    let mut actions = Vec::new();
    for (keys, action) in SHORTCUTS {
        let bare = keys.modifiers == Modifiers::NONE;
        let undoing = matches!(action, Action::Undo | Action::Redo);
        if (bare && (in_text || !ctx.input(|input| input.modifiers.is_none()))) || (undoing && typing) {
            continue;
        }
        if ctx.input_mut(|input| input.consume_shortcut(keys)) {
            actions.push(if *action == Action::Pin && pinned { Action::Unpin } else { *action });
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
        Action::Fit | Action::Pin | Action::Unpin | Action::CancelGesture | Action::LargerType | Action::SmallerType
    )
}
