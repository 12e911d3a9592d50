"""People on paper: the certificate with its derived range, the pocket card, the list of what falls due."""
