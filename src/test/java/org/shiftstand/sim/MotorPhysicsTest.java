package org.shiftstand.sim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Objects;
import java.util.stream.Stream;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/**
 * The motor against REF-PHYS-01 and REF-PHYS-02 (motor_relations.csv, motor_relations_more.csv: elementary relations of a
 * permanent-magnet motor, computed apart from this project) and the screw against REF-PHYS-01 (screw_and_limits.json).
 */
class MotorPhysicsTest {
    private static final double DEG_PER_RAD = 180 / Math.PI;

    /** One row of the reference. */
    record Row(
            double supplyV,
            double ohm,
            double ke,
            double idleA,
            double stallA,
            double noLoadRadS,
            double noLoadRpm,
            double electromagneticNm,
            double shaftNm,
            double maxPowerW) {
        Motor motor(double gear) {
            return new Motor(ohm, ke, idleA, 6.8e-7, gear);
        }
    }

    static List<Row> rows() {
        return Stream.of("motor_relations.csv", "motor_relations_more.csv")
                .flatMap(MotorPhysicsTest::lines)
                .map(MotorPhysicsTest::row)
                .toList();
    }

    static Stream<Arguments> travels() throws IOException {
        try (InputStream in =
                Objects.requireNonNull(MotorPhysicsTest.class.getResourceAsStream("/sim/screw_and_limits.json"))) {
            JsonNode table = JsonMapper.shared().readTree(in).get("table");
            assertThat(table.size()).isEqualTo(8);
            return table.valueStream()
                    .map(row -> Arguments.of(
                            row.get("angle_deg").asDouble(),
                            row.get("travel_mm").asDouble()));
        }
    }

    private static Stream<String> lines(String name) {
        try (InputStream in = Objects.requireNonNull(MotorPhysicsTest.class.getResourceAsStream("/sim/" + name))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8)
                    .lines()
                    .filter(line -> !line.startsWith("#") && !line.startsWith("supply_V"));
        } catch (IOException e) {
            throw new java.io.UncheckedIOException(e);
        }
    }

    private static Row row(String line) {
        double[] v =
                Stream.of(line.split(",", -1)).mapToDouble(Double::parseDouble).toArray();
        return new Row(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9]);
    }

    @ParameterizedTest
    @MethodSource("rows")
    void a_blocked_shaft_draws_the_stall_current(Row row) {
        Shaft shaft = new Shaft(row.motor(9), 0);
        shaft.stops(0, 0);

        shaft.step(row.supplyV, row.supplyV);

        assertThat(shaft.currentA()).isCloseTo(row.stallA, within(5e-7)); // the reference is printed to 6 decimals
        assertThat(shaft.angleDeg()).isZero();
    }

    @ParameterizedTest
    @MethodSource("rows")
    void an_unloaded_motor_ends_at_the_no_load_speed_and_never_passes_it(Row row) {
        double gear = 9;
        Shaft shaft = new Shaft(row.motor(gear), 0);
        double fastest = 0;

        for (int i = 0; i < 10_000; i++) { // 2 s: a hundred time constants and more
            shaft.step(row.supplyV, row.supplyV);
            fastest = Math.max(fastest, shaft.speedDegS());
        }

        double noLoadDegS = row.noLoadRadS / gear * DEG_PER_RAD;
        assertThat(shaft.speedDegS()).isCloseTo(noLoadDegS, within(1e-6 * noLoadDegS));
        assertThat(fastest).isLessThanOrEqualTo(noLoadDegS * (1 + 1e-9));
        assertThat(shaft.speedDegS() * gear / 6).isCloseTo(row.noLoadRpm, within(1e-3)); // 6 deg/s are 1 rpm
        assertThat(shaft.currentA()).isCloseTo(row.idleA, within(1e-6));
    }

    @ParameterizedTest
    @MethodSource("rows")
    void current_never_exceeds_stall_current_even_when_reversed_at_full_speed(Row row) {
        Shaft shaft = new Shaft(row.motor(9), 0);
        double most = 0;

        for (int i = 0; i < 5000; i++) {
            shaft.step(i < 2500 ? row.supplyV : -row.supplyV, row.supplyV);
            most = Math.max(most, Math.abs(shaft.currentA()));
        }

        assertThat(most).isLessThanOrEqualTo(row.stallA + 5e-7);
    }

    @ParameterizedTest
    @MethodSource("rows")
    void torque_at_stall_is_what_accelerates(Row row) {
        Motor motor = row.motor(9);
        Shaft shaft = new Shaft(motor, 0);

        shaft.step(row.supplyV, row.supplyV);

        double stepS = Shaft.STEP_NANOS * 1e-9;
        double nm = shaft.speedDegS() / DEG_PER_RAD * motor.gear() / stepS * motor.inertiaKgM2();
        assertThat(nm).isCloseTo(row.shaftNm, within(5e-9));
        assertThat(motor.keVsPerRad() * row.stallA).isCloseTo(row.electromagneticNm, within(5e-9));
    }

    /** At half the no-load speed a motor gives the most power: (V − I0·R)²/(4R) at the shaft. */
    @ParameterizedTest
    @MethodSource("rows")
    void power_peaks_at_half_the_no_load_speed(Row row) {
        Motor motor = row.motor(9);
        Shaft shaft = new Shaft(motor, 0);
        double most = 0;

        for (int i = 0; i < 10_000; i++) {
            double before = shaft.speedDegS();
            shaft.step(row.supplyV, row.supplyV);
            double accelerated = (shaft.speedDegS() - before) / DEG_PER_RAD * motor.gear() / (Shaft.STEP_NANOS * 1e-9);
            double meanRadS = 0.5 * (shaft.speedDegS() + before) / DEG_PER_RAD * motor.gear();
            most = Math.max(most, accelerated * motor.inertiaKgM2() * meanRadS);
        }

        // 5 %: the step is a finite part of these motors' time constants, down to a fiftieth
        assertThat(most).isCloseTo(row.maxPowerW, within(0.05 * row.maxPowerW));
    }

    @Test
    void the_work_of_the_shaft_is_less_than_what_the_supply_gave() {
        Motor motor = Motor.TARN_LIKE;
        Shaft shaft = new Shaft(motor, 0);
        double given = 0;

        for (int i = 0; i < 500; i++) {
            shaft.step(8.2, 8.2);
            given += 8.2 * shaft.currentA() * Shaft.STEP_NANOS * 1e-9;
        }

        double radS = shaft.speedDegS() / DEG_PER_RAD * motor.gear();
        assertThat(0.5 * motor.inertiaKgM2() * radS * radS).isPositive().isLessThan(given);
    }

    @Nested
    class Screw {
        /** REF-PHYS-01, screw_and_limits.json: travel = angle/360 × lead, lead 2.4 mm. */
        @ParameterizedTest
        @MethodSource("org.shiftstand.sim.MotorPhysicsTest#travels")
        void the_nominal_drive_has_the_lead_of_common_practice(double deg, double mm) {
            double lead = TarnDrive.profile().screwLeadMm().orElseThrow();

            assertThat(deg / 360 * lead).isCloseTo(mm, within(1e-12));
        }
    }

    @Nested
    class Friction {
        @Test
        void less_than_the_friction_current_moves_nothing() {
            Shaft shaft = new Shaft(Motor.TARN_LIKE, 12);

            for (int i = 0; i < 1000; i++) {
                shaft.step(0.23 * 1.55, 8.2); // 0.23 A; friction takes 0.24 A
            }

            assertThat(shaft.angleDeg()).isEqualTo(12);
        }

        @Test
        void a_coasting_shaft_stops_and_does_not_come_back() {
            Shaft shaft = new Shaft(Motor.TARN_LIKE, 0);
            for (int i = 0; i < 300; i++) {
                shaft.step(8.2, 8.2);
            }
            double at = shaft.angleDeg();

            double least = at;
            for (int i = 0; i < 20_000; i++) {
                shaft.coast();
                assertThat(shaft.angleDeg()).isGreaterThanOrEqualTo(least);
                least = shaft.angleDeg();
            }

            assertThat(shaft.speedDegS()).isZero();
            assertThat(least).isGreaterThan(at);
        }

        @Test
        void a_hard_stop_is_never_passed() {
            Shaft shaft = new Shaft(Motor.TARN_LIKE, 0);
            shaft.stops(-100, 250);

            for (int i = 0; i < 2000; i++) {
                shaft.step(8.2, 8.2);
                assertThat(shaft.angleDeg()).isLessThanOrEqualTo(250);
            }

            assertThat(shaft.angleDeg()).isEqualTo(250);
            assertThat(shaft.currentA()).isCloseTo(8.2 / 1.55, within(1e-12));
        }
    }
}
