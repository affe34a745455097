"""The owner's month: what its page, report and command say."""
