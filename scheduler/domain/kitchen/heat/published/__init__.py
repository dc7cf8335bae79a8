"""Tables that were published: how long at a temperature. Each row keeps the temperature as it is printed."""
