"""The cautions of a log, a file a subject, gathered in ``of_log``."""
