"""Games put together: what one block of an evening gives everybody in it, and a session of several blocks."""
