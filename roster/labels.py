"""Labels and names that people type: shown as typed, compared trimmed and case-folded.

What is looked for and put in order here is not left to the database: each has an order and capitals of its own.
"""

from unicodedata import combining, normalize


def fold(label: str) -> str:
    """The form in which two labels are compared.

    >>> fold("  Goblet Squat ") == fold("goblet squat")
    True
    """
    return label.strip().casefold()


def as_looked_for(text: str) -> str:
    """The form in which names are looked for: neither capitals nor accents make a difference.

    >>> as_looked_for("Zoë Öztürk")
    'zoe ozturk'
    """
    if text.isascii():
        return text.casefold()
    return "".join(letter for letter in normalize("NFKD", text.casefold()) if not combining(letter))


def order_of_names(name: str) -> tuple[str, str]:
    """As people look for names in a list; accents and capitals decide only between names that are else alike.

    >>> sorted(["Zoe", "anna", "Özil", "Anna", "Oda"], key=order_of_names)
    ['Anna', 'anna', 'Oda', 'Özil', 'Zoe']
    """
    return as_looked_for(name), name
