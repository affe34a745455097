"""One model for every kind of event: what may stand in the ledger's payload.

An event says in full what happened, so that replaying needs no rule and no work book: applying it
only writes it down. A kind and its fields never change once released; what is new gets a new kind
or an optional field.
"""
