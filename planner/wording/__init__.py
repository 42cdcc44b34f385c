"""Words: findings and cautions as sentences in the site's units."""
