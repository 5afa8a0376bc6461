"""Names for invented people, drawn from many languages and combined by chance."""

GIVEN_NAMES = (
    "Amara", "Anouk", "Arvid", "Ayla", "Bao", "Bela", "Bruna", "Caio", "Cosima", "Dagny", "Davor", "Delphine",
    "Ebba", "Edda", "Ekon", "Elif", "Emeka", "Farid", "Fenna", "Fiete", "Gesa", "Goran", "Hana", "Heikki", "Ilka",
    "Imani", "Ines", "Ivo", "Jadwiga", "Jaro", "Jun", "Kaia", "Kamil", "Katrin", "Keanu", "Kofi", "Lale", "Leandro",
    "Linnea", "Lorcan", "Maelle", "Malik", "Mareike", "Matteo", "Mei", "Milan", "Nadia", "Nils", "Noor", "Odile",
    "Okan", "Orla", "Paloma", "Pavel", "Petra", "Priya", "Quirin", "Rania", "Renske", "Ruben", "Saga", "Samir",
    "Selma", "Sione", "Sunniva", "Tariq", "Teresa", "Tiago", "Tuuli", "Ulla", "Vasil", "Vida", "Wanja", "Wiebke",
    "Xenia", "Yara", "Yusuf", "Zdenka", "Zita", "Zoran",
)  # fmt: skip
FAMILY_NAMES = (
    "Adeyo", "Albrand", "Almqvar", "Aroha", "Bakkema", "Banduri", "Bellwick", "Birkmo", "Branco", "Cardel",
    "Chidor", "Corvat", "Dahlmo", "Darrow", "Delmar", "Dobrev", "Eikrem", "Elvero", "Engstad", "Farkosh", "Fennick",
    "Ferrand", "Galdo", "Garrin", "Grimwood", "Hallorn", "Haverkort", "Hoshida", "Ibarro", "Ilvonen", "Jansma",
    "Jarosz", "Kallio", "Karimo", "Kestrin", "Kolbeck", "Kovalt", "Lambrik", "Landvik", "Larkin", "Lindqvar",
    "Lopera", "Mahlow", "Marlo", "Mbekani", "Merrow", "Morvan", "Nakamo", "Nesbryn", "Norwick", "Oduya", "Ostrand",
    "Padrin", "Pellor", "Quist", "Rahimi", "Reinholt", "Ridder", "Rosvall", "Rudin", "Salvat", "Sandoro", "Sarkano",
    "Selwyn", "Skov", "Solberry", "Sorin", "Stellan", "Tamati", "Tanwar", "Thorne", "Tomasek", "Ueland", "Valdis",
    "Varga", "Verhaal", "Wendland", "Wirth", "Yamado", "Zeller",
)  # fmt: skip
TIME_ZONES = (
    "Europe/Lisbon", "Europe/Berlin", "Europe/Berlin", "Europe/Oslo", "Europe/London", "Europe/Warsaw",
    "Europe/Istanbul", "Africa/Lagos", "Africa/Nairobi", "Asia/Kolkata", "America/Mexico_City", "America/New_York",
)  # fmt: skip
