import {
  Form,
  MeasureField,
  NumberField,
  SelectField,
  Submit,
  TextArea,
  TextField,
} from "@/app/ui";
import { changeShopAction } from "./actions";

type ShopFormProps = {
  readonly currencyLocked: boolean;
  readonly shop: {
    readonly name: string;
    readonly address: string;
    readonly email: string;
    readonly phone: string;
    readonly timeZone: string;
    readonly currency: string;
    readonly locale: string;
    readonly unitSystem: string;
    readonly workshopTempC: number;
    readonly roomVolumeM3: number;
    readonly humidityPercent: number;
    readonly bakeStartMinutes: number;
    readonly quoteValidDays: number;
    readonly quoteDepositPercent: number;
    readonly quoteTerms: string;
  };
};

export function ShopForm({ shop, currencyLocked }: ShopFormProps) {
  const zones = Intl.supportedValuesOf("timeZone").map((zone) => ({ value: zone, label: zone }));
  return (
    <Form action={changeShopAction} label="The shop">
      <div className="grid gap-4 sm:grid-cols-2">
        <TextField name="name" label="Name" defaultValue={shop.name} required />
        <TextField name="email" label="E-mail" type="email" defaultValue={shop.email} />
        <TextField name="phone" label="Telephone" type="tel" defaultValue={shop.phone} />
        <TextField name="address" label="Address" defaultValue={shop.address} />
        <SelectField
          name="timeZone"
          label="Time zone"
          options={zones}
          defaultValue={shop.timeZone}
          required
        />
        <TextField
          name="locale"
          label="Dates and numbers"
          defaultValue={shop.locale}
          hint="Language and country, such as en-IE."
          required
        />
        <TextField
          name="currency"
          label="Currency"
          defaultValue={shop.currency}
          hint={
            currencyLocked ? "Amounts are stored in it: it stays." : "ISO 4217 code, such as EUR."
          }
          required
        />
        <SelectField
          name="unitSystem"
          label="Units"
          defaultValue={shop.unitSystem}
          options={[
            { value: "METRIC", label: "metric (mm, g, L, °C)" },
            { value: "US", label: "US customary (in, lb, gal, °F)" },
          ]}
          required
        />
        <MeasureField
          name="workshopTempC"
          label="Usual temperature of the workshop"
          kind="temperature"
          value={shop.workshopTempC}
          required
        />
        <MeasureField
          name="roomVolumeM3"
          label="Volume of the room the tanks stand in"
          kind="roomVolume"
          value={shop.roomVolumeM3}
          hint="For the hydrogen estimate."
          required
        />
        <NumberField
          name="humidityPercent"
          label="Usual humidity of the workshop"
          unit="%"
          defaultValue={shop.humidityPercent}
          hint="Relative; for evaporation and the dew point."
          required
        />
        <NumberField
          name="bakeStartMinutes"
          label="A relief bake begins within"
          unit="min"
          defaultValue={shop.bakeStartMinutes}
          hint="Of pulling, 240 at the most. 60 is usual (from memory of ISO 9588)."
          required
        />
        <NumberField
          name="quoteValidDays"
          label="A quote is valid for"
          unit="days"
          defaultValue={shop.quoteValidDays}
          required
        />
        <NumberField
          name="quoteDepositPercent"
          label="Deposit asked before work begins"
          unit="%"
          defaultValue={shop.quoteDepositPercent}
          hint="Of the total with tax; each quote can ask another."
          required
        />
      </div>
      <TextArea
        name="quoteTerms"
        label="Terms printed on quotes"
        defaultValue={shop.quoteTerms}
        rows={4}
      />
      <Submit>Save the shop</Submit>
    </Form>
  );
}
