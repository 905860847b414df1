"""What stands in the picture of a plan: its words and its filled shapes."""

AXES = ("jug", "bars", "times", "warmth", "after")


def texts(drawing):
    """Every word in a picture, lines joined, with the artist that it stands in."""
    artists = [drawing.parts["head"]]
    for name in AXES:
        axes = drawing.parts[name]
        artists += [*axes.texts, axes._left_title]
    return [(t.get_text().replace("\n", " "), t) for t in artists if t.get_text()]


def words_in(drawing):
    """All words of a picture in one text."""
    return " | ".join(text for text, _ in texts(drawing)).replace("\xa0", " ")


def corners(artist):
    """Lowest and highest x and y of a filled shape [units of its axes]."""
    points = artist.get_paths()[0].vertices
    return points.min(axis=0), points.max(axis=0)
