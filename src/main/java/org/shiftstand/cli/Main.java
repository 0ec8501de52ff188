package org.shiftstand.cli;

/** Entry point of the {@code shiftstand} command. */
public final class Main {
    private Main() {}

    public static void main(String[] args) {
        System.out.println("shiftstand");
    }
}
