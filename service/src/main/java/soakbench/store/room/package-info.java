/** How much room the database takes and has left, and how soon that is gone. */
package soakbench.store.room;
