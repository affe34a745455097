"""The desk: everything that is not on a lift yet, from the first call to the customer's word."""
