"""What the cook says and sees: transports, understanding replies, wording, pictures, the command line."""
