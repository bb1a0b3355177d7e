"""What goes over the wire: structs and nothing else.

A quantity is always a value with its unit; fields that a caller may leave out are unset rather than
null; unknown fields are refused. The OpenAPI document is generated from these structs.
"""
