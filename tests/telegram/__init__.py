"""A stand-in for the Bot API server on loopback, and the verbs of people who chat through it.

It follows the published manual (core.telegram.org/bots/api) as far as the clerk uses it. Where a comment says
"manual", "FAQ" or "library", the value was read there (the Bots FAQ and the manual as they are quoted in our list of
check values, the constants of python-telegram-bot 22.8); error texts said to be "quoted" stand so in public code that
matches on them; what is said to be "from memory" could not be looked up.

    wire        HTTP on loopback: requests in, answers out, lines that drop
    envelope    calls and answers as the manual's "Making requests" has them
    parameters  calls checked against the published parameter lists
    faults      what goes wrong with a call, once or at random
    limits      the flood limits
    shapes      people, chats and messages as the Bot API writes them
    messenger   the chats with what is in them, and whom the bot may write to
    posting     the methods that put something into a chat or change it;  methods    all methods by name
    updates     what waits to be heard, for getUpdates or a webhook;  webhook    the pump that posts it
    people      the verbs;  stand_in    the server with all of it
    serve       the same as a process of its own;  asking    a bare client
"""
