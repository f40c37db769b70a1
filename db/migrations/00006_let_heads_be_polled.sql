-- +goose Up
-- One query a second reads the heads of all accounts that somebody listens to. It sees their
-- heads and nothing else of them, and only those it names.
CREATE POLICY farm_head_of_poke ON farm_head FOR SELECT
    USING (farm_id = ANY (
        (SELECT string_to_array(nullif(current_setting('app.farms', true), ''), ',')::uuid[])::uuid[]));

-- +goose Down
DROP POLICY farm_head_of_poke ON farm_head;
