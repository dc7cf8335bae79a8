"""What happens when: plans, timetables, nudges, kitchen arithmetic and the services around them."""
