"""What the shop knows: the shop file, the rules, the sums. Imports no UI, asks no clock."""
