package org.shiftstand.link;

import java.util.concurrent.TimeUnit;

/**
 * A serial port by its path, opened as often as it is asked for: with the cable out there is no such port, with it in again
 * there is.
 *
 * @param path such as {@code /dev/ttyACM0} or {@code COM3}; one that names the device wherever it is plugged in, such as below
 *     {@code /dev/serial/by-id}, is found again under any number
 * @param speed bits a second
 */
public record SerialPlace(String path, int speed) implements Port {
    @Override
    public String address() {
        return "serial:" + path;
    }

    @Override
    public Link open() {
        return SerialLink.open(path, speed);
    }

    /** Waits in real time; an interrupt neither shortens it nor is lost. */
    @Override
    public void pause(long micros) {
        long until = System.nanoTime() + TimeUnit.MICROSECONDS.toNanos(micros);
        boolean interrupted = false;
        for (long left = until - System.nanoTime(); left > 0; left = until - System.nanoTime()) {
            try {
                TimeUnit.NANOSECONDS.sleep(left);
            } catch (InterruptedException e) {
                interrupted = true;
            }
        }
        if (interrupted) {
            Thread.currentThread().interrupt();
        }
    }
}
