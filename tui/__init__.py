"""What people see and press: the screens and the command line. No SQL, no rules."""
