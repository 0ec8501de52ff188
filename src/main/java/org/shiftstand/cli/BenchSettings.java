package org.shiftstand.cli;

import java.nio.file.Path;
import org.springframework.boot.context.properties.ConfigurationProperties;
import org.springframework.boot.context.properties.bind.DefaultValue;

/**
 * Settings of this bench, from {@code application-cli.yaml}.
 *
 * @param reports folder that runs go to unless {@code --out} says otherwise
 */
@ConfigurationProperties("shiftstand")
record BenchSettings(
        @DefaultValue("reports") Path reports, @DefaultValue Serial serial) {
    /**
     * The serial line.
     *
     * @param speed baud, where the rig description does not say
     */
    record Serial(@DefaultValue("921600") int speed) {}
}
