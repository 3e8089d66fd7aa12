"""The commands the service offers in its menu."""

from telegram import BotCommand

MENU = (
    BotCommand("start", "Begin tonight's session"),
    BotCommand("tonight", "What tonight looks like"),
    BotCommand("next", "What to load next"),
    BotCommand("why", "Where these numbers come from"),
    BotCommand("week", "The evenings ahead"),
    BotCommand("kit", "What you own"),
    BotCommand("undo", "Take back the last entry"),
    BotCommand("help", "What you can write"),
    BotCommand("privacy", "What is kept about you, and how to erase it"),
)

SORRY = "Something went wrong here. Your message is kept, but has no answer yet."
