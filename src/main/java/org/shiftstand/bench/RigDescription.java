package org.shiftstand.bench;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import org.shiftstand.quantity.Quantity;

/**
 * What is known of a rig before it is connected.
 *
 * @param port serial port, empty for a simulated rig
 * @param speed baud
 * @param drive {@code requests} or {@code direct}
 * @param hall the pair of Hall channels
 * @param currentScaleA ampere a count; empty means the rig's own statement is used
 * @param calibrations in the order written; may be empty
 * @param guardClosed whether a closed guard around the drive is declared: nobody can reach what moves
 * @param power what feeds the unit, where it is declared
 * @param uncertainties declared ones, in the order written; may be empty
 * @param studies what gauge studies found, in the order written; may be empty
 * @param sha256 digest of the file's text
 */
public record RigDescription(
        String name,
        String port,
        int speed,
        String drive,
        Guards guards,
        Hall hall,
        OptionalDouble currentScaleA,
        List<Calibration> calibrations,
        boolean guardClosed,
        Optional<Power> power,
        List<Declared> uncertainties,
        List<StudyResult> studies,
        String sha256) {
    public RigDescription {
        calibrations = List.copyOf(calibrations);
        uncertainties = List.copyOf(uncertainties);
        studies = List.copyOf(studies);
    }

    /** What feeds the unit. */
    public enum Power {
        /** Behind a fuse; the only one that may run without a person. */
        FUSED_SUPPLY("fused-supply"),
        /** A bench supply of which nothing more is said. */
        SUPPLY("supply"),
        /** Cells that burn when shorted, overcharged or crushed: never without a person. */
        LITHIUM_CELLS("lithium-cells");

        private final String word;

        Power(String word) {
            this.word = word;
        }

        /** As files write it. */
        public String word() {
            return word;
        }

        static Optional<Power> of(String word) {
            return Arrays.stream(values()).filter(p -> p.word.equals(word)).findFirst();
        }
    }

    /** A rig with a 12-bit converter, one electrical turn a shaft turn, and no calibrations. */
    public RigDescription(
            String name,
            String port,
            int speed,
            String drive,
            Guards guards,
            OptionalDouble currentScaleA,
            String sha256) {
        this(
                name,
                port,
                speed,
                drive,
                guards,
                Hall.USUAL,
                currentScaleA,
                List.of(),
                false,
                Optional.empty(),
                List.of(),
                List.of(),
                sha256);
    }

    /**
     * What cuts the supply: in the rig first, in the host second.
     *
     * @param currentA with {@code currentForS}: a current above this for that long
     * @param averageA with {@code averageOverS}: a mean current above this over that long
     * @param onTimeS most on-time in an hour, seconds
     * @param dutyShare most part of any ten minutes that the shaft may move, above 0 to 1; a procedure is held to it
     *     before it starts
     * @param totalOnTimeS most on-time of a whole run, seconds; likewise
     * @param shifts most shifts of a run; likewise
     */
    public record Guards(
            double currentA,
            double currentForS,
            double averageA,
            double averageOverS,
            double onTimeS,
            double temperatureC,
            double supplyMinV,
            double supplyMaxV,
            OptionalDouble dutyShare,
            OptionalDouble totalOnTimeS,
            OptionalInt shifts) {
        /** Without what is only held against a procedure before it starts. */
        public Guards(
                double currentA,
                double currentForS,
                double averageA,
                double averageOverS,
                double onTimeS,
                double temperatureC,
                double supplyMinV,
                double supplyMaxV) {
            this(
                    currentA,
                    currentForS,
                    averageA,
                    averageOverS,
                    onTimeS,
                    temperatureC,
                    supplyMinV,
                    supplyMaxV,
                    OptionalDouble.empty(),
                    OptionalDouble.empty(),
                    OptionalInt.empty());
        }
    }

    /**
     * The pair of Hall channels.
     *
     * @param low least count of the converter
     * @param high greatest count of the converter
     * @param turnsPerCycle turns of the shaft in one electrical turn: 1 with the usual magnet, 1/2 with one of two
     *     periods a turn; a whole number or the inverse of one
     */
    public record Hall(int low, int high, double turnsPerCycle) {
        static final Hall USUAL = new Hall(0, 4095, 1);
    }

    /**
     * One calibration.
     *
     * @param what the quantity that was calibrated, such as {@code current}
     * @param uncertainty standard uncertainty that it left
     */
    public record Calibration(String what, LocalDate on, Quantity uncertainty) {}
}
