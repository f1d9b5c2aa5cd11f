/**
 * A simulated rack whose truth is known. It is kept apart from the code that it tests: nothing of
 * the fits, the stillness or the judging is used here, so an error there can't hide in both.
 */
package soakbench.demo;
