package org.shiftstand.cli;

import java.time.Clock;
import org.springframework.boot.context.properties.EnableConfigurationProperties;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

/** What the bench commands are assembled from: a clock, rigs, and where runs go. */
@Configuration(proxyBeanMethods = false)
@EnableConfigurationProperties(BenchSettings.class)
class BenchConfiguration {
    @Bean
    Clock clock() {
        return Clock.systemUTC();
    }

    @Bean
    Rigs rigs(BenchSettings settings) {
        return new Rigs(settings.serial().speed());
    }

    @Bean
    Bench bench(Clock clock, Rigs rigs, BenchSettings settings) {
        return new Bench(clock, rigs, settings.reports());
    }
}
