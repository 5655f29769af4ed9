### A diagnosis in sentences, on the command line. What the screens say as well is said with their words.

cli_state_unknown = Reading { $reading }: { $what } isn’t given. Every position is weighed; write which it was, and the reading says more.
cli_state_of_test = Reading { $reading }: { $what } as its test wants it.
cli_remaining = Remaining: { $cause } ({ $percent })
cli_pair = Two faults at once: { $causes } ({ $percent })
cli_unmodelled = { causes_other } ({ $percent })
cli_ground_raised = Reading { $reading } raised its odds the most ({ $times }-fold, log-likelihood { $log }).
cli_ground_lowered = Reading { $reading } lowered its odds the most ({ $times }-fold, log-likelihood { $log }).
cli_ruled_out = Ruled out: { $cause }, by reading { $reading } (odds fell { $times }-fold).
cli_open_fuse = { open_fuse_title } ({ $fuse }): find what blew it. { open_fuse_how }
cli_module_may = { $module }: may be called the cause ({ $percent })
cli_module_may_not = { $module }: not proven ({ $percent })
cli_overturn = What would change this: { $test } showing { $result } (chance { $chance }); then { $about } would be at { $after }, and { $leading } would lead.
cli_any_value = any value
cli_doubt = { $doubt } ({ $readings })
cli_and = { $first } and { $last }
cli_pins = Pins: { $pins } ({ $percent })
cli_next = Next: { $test } ({ $minutes } min; the search then takes about { $all } min in all).
cli_buy_test = Testing first is cheaper than a new { $module } by { $by } (expected { $test } against { $buy }).
cli_buy_buy = By money alone, a new { $module } is cheaper by { $by } (expected { $buy } against { $test }); what is proven above still decides.
