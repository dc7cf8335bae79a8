"""What is remembered: tables, units of work, inbox and outbox, migrations."""
