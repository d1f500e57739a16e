"""A simulated unit for the bench of the rules: seven kinds of patient, a therapist, and a chart."""
