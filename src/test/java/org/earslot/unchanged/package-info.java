/**
 * What must not change while rooms are moved: recorded once, compared by {@link
 * org.earslot.unchanged.UnchangedBehaviourTest}. To be removed with its files when the rebuilding is done.
 */
@NullMarked
package org.earslot.unchanged;

import org.jspecify.annotations.NullMarked;
