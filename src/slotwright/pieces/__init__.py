"""Made pieces: a blank and the features a machinist would name, and the solid that follows from them."""
