"""Which kits are there at all: the sieve, the skeletons and the kits that fill them."""
