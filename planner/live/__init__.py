"""What the page asks and is answered, in processes of their own: ground, views, a followed drag."""
