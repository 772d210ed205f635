"""What the calculators are made of: each module takes one subject from a form's values to figures.

Physics knows no form and calculators don't import each other; what two of them need alike, or one
tells at length, stands here.
"""
