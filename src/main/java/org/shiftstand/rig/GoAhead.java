package org.shiftstand.rig;

/**
 * Says whether a unit may move again after the line was lost and is back. Nothing moves by itself: a person says so, or a
 * declared closed guard does.
 */
public interface GoAhead {
    /** Nobody is there to say so. */
    GoAhead NOBODY = what -> false;

    /**
     * Asks, while the supply is off. May wait for a person as long as it sees to it that a wish to stop ends the waiting.
     *
     * @param what happened, for the person
     * @return whether the unit may be powered and moved
     */
    boolean given(String what);
}
