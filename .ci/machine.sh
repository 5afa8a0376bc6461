# What the tests want of the machine beside Python: two servers, a browser, a reader of paper, an office. For .ci/run
# alone, which brings `root`, `work`, `free_port` and `answers`.

redis_pid=
data=$work/postgresql
programs=(chromium initdb pdftotext redis-server soffice)
packages=(chromium libreoffice-calc-nogui postgresql poppler-utils redis-server)
seconds_to_a_server=30

postgresql_programs() {
    local found
    found=$(find /usr/lib/postgresql -path '*/bin/initdb' 2>/dev/null | sort -V | tail -1)
    [ -n "$found" ] && dirname "$found"
}

missing_programs() {
    local program
    for program in "${programs[@]}"; do
        command -v "$program" >/dev/null || [ -x "$(postgresql_programs)/$program" ] || printf '%s ' "$program"
    done
}

# Nothing is started by the packages themselves: what the tests use, they start and stop.
install_packages() {
    [ -n "$(missing_programs)" ] || return 0
    if [ "$(id -u)" = 0 ]; then
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive RUNLEVEL=1 \
            apt-get install -y -qq --no-install-recommends "${packages[@]}" </dev/null >"$work/apt.log" 2>&1 || tail -40 "$work/apt.log"
    fi
    [ -z "$(missing_programs)" ] || { echo "not here: $(missing_programs)- install ${packages[*]}"; return 1; }
}

# PostgreSQL refuses to be run by root.
as_postgres() {
    if [ "$(id -u)" = 0 ]; then (cd / && runuser -u postgres -- "$@"); else "$@"; fi
}

# Words sorted as dictionaries do, unlike the embedded database: whatever hangs on the order of a server comes to light.
start_postgresql() {
    local port=$1 programs
    programs=$(postgresql_programs)
    chmod o+x "$work"
    mkdir -m 700 "$data"
    [ "$(id -u)" != 0 ] || chown postgres: "$data"
    as_postgres "$programs/initdb" -D "$data" -U muster -A trust -E UTF8 --locale=C.UTF-8 \
        --locale-provider=icu --icu-locale=en-US --no-sync >/dev/null
    as_postgres "$programs/pg_ctl" -D "$data" -w -s -l "$data/log" \
        -o "-p $port -h 127.0.0.1 -k $data" start </dev/null >/dev/null 2>&1 || { cat "$data/log"; return 1; }
    as_postgres "$programs/createdb" -h 127.0.0.1 -p "$port" -U muster muster
}

start_redis() {
    local port=$1 started=$SECONDS
    redis-server --port "$port" --bind 127.0.0.1 --save '' --appendonly no --dir "$work" \
        </dev/null >"$work/redis.log" 2>&1 &
    redis_pid=$!
    until answers "$port"; do
        if ! kill -0 "$redis_pid" 2>/dev/null || [ $((SECONDS - started)) -gt "$seconds_to_a_server" ]; then
            cat "$work/redis.log"
            return 1
        fi
        sleep 0.1
    done
}

stop_servers() {
    [ -z "$redis_pid" ] || kill -TERM "$redis_pid" 2>/dev/null || true
    [ -z "$redis_pid" ] || wait "$redis_pid" 2>/dev/null || true
    redis_pid=
    [ ! -e "$data/postmaster.pid" ] || as_postgres "$(postgresql_programs)/pg_ctl" -D "$data" -s -m immediate stop || true
}
