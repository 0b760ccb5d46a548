import { setFlagsFromString } from 'node:v8';

/*
 * A server is at work for a millisecond now and then. V8's optimising compiler took nearly half of the CPU of opening
 * 1,000 lines, for functions that had no more to do; so it waits till more is asked of one, and machine code of the plain
 * kind is made at once, of all but what runs once while the server is loaded: hence it is set last. An edition of V8 without these settings says so on standard error and goes on.
 */
setFlagsFromString('--interrupt-budget=600000');
setFlagsFromString('--always-sparkplug');
