"""What has to be said wherever somebody might rely on a paper; word for word as on the pages."""

FOOTER = "Nobody watches this live. Don't wait for your coach. Muster is not medical software."
CAUTIONS = (
    "Nobody watches this live. Don't wait for your coach. Muster is not medical software; what is said here gives way "
    "to local law, to a licensed professional's word and, in an emergency, to your local emergency number.",
    "Stop, and get medical help at once, for: pressure or pain in the chest, jaw, arm or between the shoulders; "
    "fainting or dizziness; breathlessness that stops speech; an irregular heartbeat; cold sweat; trouble with speech, "
    "face or sight; a sudden severe headache; numbness or sudden weakness, a numb saddle, new trouble with bladder or "
    "bowel; a pop followed by weakness; swelling of one calf; dark urine or severe swelling one to three days later. "
    "Before any further session, ask: has a doctor seen it?",
)
