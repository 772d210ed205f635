"""What knows no watermaker: quantities, forms, reports, rendering, links, files, the service."""
