"""Every calculation once more, slowly and obviously: plain loops, integers and fractions, one client and one day
at a time. It shares no code with the product and is the oracle that the product's answers are compared with.
"""
