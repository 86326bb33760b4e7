// What it costs to write a report of ten thousand findings, by format.
#include "report/sample.hpp"

#include <benchmark/benchmark.h>

namespace {

report::Report large() {
    report::Report report = sample::mixed();
    const rules::Finding cook = report.findings[1];
    report.findings.clear();
    report.summaries.clear();
    for (std::size_t i = 0; i < 10'000; ++i) {
        rules::Finding finding = cook;
        finding.puzzle = "harbour-" + std::to_string(i);
        finding.begin.line = finding.end.line = 6 * i + 5;
        report.summaries.push_back(sample::puzzle(finding.puzzle, finding.file, 6 * i + 3));
        report.findings.push_back(std::move(finding));
    }
    return report;
}

template <class Write> void measure(benchmark::State& state, Write write) {
    const report::Report report = large();
    std::size_t bytes = 0;
    for (auto _ : state) {
        const std::string written = write(report);
        bytes = written.size();
        benchmark::DoNotOptimize(written.data());
    }
    state.counters["bytes"] = static_cast<double>(bytes);
}

std::string narrow(const report::Report& report) {
    report::Look look;
    look.width = 80;
    return report::text(report, look);
}

std::string sarif(const report::Report& report) {
    static const auto catalogue = rules::Catalogue::read(rules::WithExamples::no);
    return report::sarif(report, *catalogue);
}

} // namespace

BENCHMARK_CAPTURE(measure, text, [](const auto& r) { return report::text(r); })
    -> Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, text_80_columns, narrow)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, brief, report::brief)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, json, report::json)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, jsonl, report::json_lines)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, sarif, sarif)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, junit, report::junit)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, code_quality, report::code_quality)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, annotations, report::annotations)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(measure, markdown, [](const auto& r) { return report::markdown(r); })
    -> Unit(benchmark::kMillisecond);
BENCHMARK_MAIN();
