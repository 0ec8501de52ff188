package org.shiftstand.cli;

import java.util.function.BooleanSupplier;
import org.shiftstand.rig.RunEnd;
import org.shiftstand.rig.StopWish;

/** A person's wish to stop, or that of a disk which is nearly full; the person goes first. */
final class StopForAnyReason implements StopWish {
    private final BooleanSupplier person;
    private final RoomWatch room;

    StopForAnyReason(BooleanSupplier person, RoomWatch room) {
        this.person = person;
        this.room = room;
    }

    @Override
    public boolean getAsBoolean() {
        return person.getAsBoolean() || room.getAsBoolean();
    }

    @Override
    public RunEnd end() {
        return person.getAsBoolean()
                ? new RunEnd.StoppedByUser()
                : room.reason().<RunEnd>map(RunEnd.NoRoom::new).orElseGet(RunEnd.StoppedByUser::new);
    }
}
