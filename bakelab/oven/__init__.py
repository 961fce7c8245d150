"""Heat and water in the oven: what another pan changes in the bake."""
