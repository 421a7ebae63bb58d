"""The planner: who goes where in which rotation, so that every child gets everywhere in time."""
