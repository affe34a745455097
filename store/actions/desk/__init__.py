"""Acts at the desk, from the first call to the customer's word."""
