"""The shell: chat adapters, storage, delivery, planned moments. Training rules live in ``core``."""
