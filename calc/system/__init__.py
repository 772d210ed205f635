"""What is aboard: frozen dataclasses, and pure functions between them. No form, no words."""
