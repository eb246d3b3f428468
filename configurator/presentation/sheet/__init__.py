"""The sheet a customer leaves with: one page with the answer, the kit, and how it is put together and started."""
