"""The accounts of the shop: made, given roles, switched off; never deleted, since records name them."""
