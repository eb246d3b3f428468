"""Units, media, verdicts, problems and boxes: what every room stands on; knows no part and no car."""
