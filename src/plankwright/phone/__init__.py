"""The file for the phone: one self-contained page of the job that needs no network."""
