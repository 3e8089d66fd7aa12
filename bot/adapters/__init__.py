"""Chat adapters: each translates one chat service to ``bot.ports`` and back, no more."""
