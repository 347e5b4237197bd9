/** Numbers from outside that tests hold the project to, and the rerun of the scripts that made them. */
@org.jspecify.annotations.NullMarked
package org.earslot.reference;
