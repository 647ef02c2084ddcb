"""The full-screen app: `app.run_app(context, opening)`."""
