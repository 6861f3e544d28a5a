"""The shop's day, in the terminal: what to weigh, what is ready, stacks and sale."""
