"""AWS D1.1: what its procedure tests, its prequalified road and its look-up tables have in common.

No edition is stated here: see `codes.aws_d1_1_2020` (qualification by test), `codes.aws_d1_1_prequalified` and
`codes.aws_d1_1_look_ups`. Not entered: clause 10 (tubular T-, Y-, K-connections), studs, electroslag and electrogas
welding, the 2025 edition.
"""
