"""What leaves the shop: templates, cutting files, drawings, sheets for the fitter and the customer. No Qt here."""
