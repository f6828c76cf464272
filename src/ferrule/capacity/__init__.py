"""What a runner can do: curves and priors."""
