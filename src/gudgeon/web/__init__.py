"""The workbench: a page on this machine where a lure is drawn and known at once."""
